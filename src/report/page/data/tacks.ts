import { axisZ } from '../../../geometry/pose.js';
import { distance } from '../../../geometry/vector.js';
import type { ManualPlanTack, PlanTack, Step } from '../../../model/plan.js';
import { poseOf } from '../../../rules/plan-frames.js';
import { SeamPlaces } from '../../../rules/seam-places.js';
import type { StageView } from '../../../rules/stage-views.js';
import type { GeometricContext } from '../page-context.js';
import type { PageTack } from '../page-data.js';
import type { RobotProgram } from './robot-program.js';
import { pageDirection, pagePoint, seconds } from './rounding.js';

type TackStep = Extract<Step, { do: 'tack' }>;

/** Makes the tacks of stages; those on seams that are not in the plan are left out. */
export class TackMaker {
  private readonly seams: SeamPlaces;
  private readonly joints: ReadonlyMap<string, number>;
  private readonly robots: ReadonlyMap<string, number>;
  private readonly laid: ReadonlyMap<string, TackStep>;

  constructor(context: GeometricContext, programs: readonly RobotProgram[]) {
    this.seams = new SeamPlaces(context);
    this.joints = new Map(context.plan.joints.map(({ id }, i) => [id, i]));
    this.robots = new Map(programs.map(({ who, robot }) => [who.id, robot]));
    this.laid = new Map(
      programs.flatMap(({ steps }) =>
        steps.flatMap((step) => (step.do === 'tack' ? [[step.tack, step] as const] : [])),
      ),
    );
  }

  /** In the order in which they are laid, those of a person last. */
  of({ stage }: StageView): readonly PageTack[] {
    const inOrder = <T extends ManualPlanTack>(tacks: readonly T[]): readonly T[] =>
      [...tacks].sort((a, b) => a.order - b.order);
    return [
      ...inOrder(stage.tacks).flatMap((tack) => this.byRobot(stage.number, tack)),
      ...inOrder(stage.manual?.tacks ?? []).flatMap((tack) => this.byHand(stage.number, tack)),
    ];
  }

  private byHand(stage: number, tack: ManualPlanTack): readonly PageTack[] {
    const place = this.seams.tack(tack);
    if (place === undefined) return [];
    return [
      {
        ...{ pick: `tack:${stage}.${tack.order}`, order: tack.order, phase: 'completing' },
        ...{ joint: this.joints.get(tack.joint)!, robot: null },
        ...{ from: pagePoint(place.start), to: pagePoint(place.end) },
        ...{ torch: null, start: null, end: null },
      },
    ];
  }

  private byRobot(stage: number, tack: PlanTack): readonly PageTack[] {
    const tip = poseOf(tack.torch.start);
    return this.byHand(stage, tack).map((one) => {
      const place = this.seams.tack(tack)!;
      const backward = distance(tip.at, place.end) < distance(tip.at, place.start);
      const step = this.laid.get(tack.id);
      return {
        ...one,
        phase: tack.phase,
        robot: this.robots.get(tack.robot) ?? null,
        ...(backward && { from: one.to, to: one.from }),
        torch: pageDirection(axisZ(tip.turn)),
        start: step === undefined ? null : seconds(step.start),
        end: step === undefined ? null : seconds(step.end),
      };
    });
  }
}
