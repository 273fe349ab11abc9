import type { Handler, Welder } from '../model/cell.js';
import type { GeometricPlan, PlanGrip, Step } from '../model/plan.js';
import { ArmCourse, type LoadedArm } from './arm-course.js';
import { bareGripperLoad, gripLoad, loadedArm, torchLoad, type TakenPart } from './arm-load.js';
import { carryings, type Carrying } from './arm-stays.js';
import { motionsOf, type Motion } from './arm-steps.js';
import { gripPlaceOf } from './plan-frames.js';
import type { RuleContext } from './rule.js';
import { tacksByName } from './step-times.js';
import { flatFaces } from '../model/part-geometry.js';

/** What an arm does in one step, or in several through which it stands, with what is fixed to its flange. */
export interface ArmStep {
  /** Place of the robot in the list of robots. */
  readonly robot: number;
  /** Indices of the first and the last step in its program. */
  readonly first: number;
  readonly last: number;
  readonly kind: Motion['kind'];
  readonly course: ArmCourse;
  /** Index of the part that is carried, or that a stroke takes or has just let go of. */
  readonly own: number | undefined;
  /** Whether the part that is carried is in its final place. */
  readonly holds: boolean;
}

/** What one robot does in all its steps, and where it brings parts to their final places. */
export interface Replay {
  readonly steps: readonly ArmStep[];
  /** Index of a part and of the step that brings it, or in which a person sets it. */
  readonly brought: readonly { readonly part: number; readonly step: number }[];
}

/** A time of carrying whose grip is known. */
interface Carried extends Carrying {
  readonly taken: TakenPart | undefined;
}

/** What a replay is made of. */
export type ReplayContext = Pick<RuleContext, 'plan' | 'cell' | 'scene'>;

/** The grip that a `grip` step stands for: the n-th of its part in its stage, or that of the part held besides. */
function statedGrip(
  { stages }: GeometricPlan,
  steps: readonly Step[],
  at: number,
  part: string,
): PlanGrip | undefined {
  const number = steps[at]!.stage;
  const stage = stages.find((one) => one.number === number);
  if (stage === undefined) return undefined;
  if (stage.part !== part) return stage.alsoHeld?.part === part ? stage.alsoHeld.grip : undefined;
  const earlier = steps
    .slice(0, at)
    .filter((step) => step.do === 'grip' && step.part === part && step.stage === number).length;
  return stage.handling[earlier]?.grip;
}

/** The part that is carried and by which grip; undefined where the plan states none that part and cell have. */
export function takenPart(
  { cell, scene, plan }: ReplayContext,
  steps: readonly Step[],
  { grip: at, part }: Carrying,
): TakenPart | undefined {
  const index = scene.index.get(part);
  const stated = statedGrip(plan, steps, at, part);
  const gripper = cell.grippers.find(({ id }) => id === stated?.gripper);
  if (index === undefined || stated === undefined || gripper === undefined) return undefined;
  const placed = scene.parts[index]!;
  if (!flatFaces(placed.part.shape).some(({ id }) => id === stated.face)) return undefined;
  return { part: index, placed, grip: gripPlaceOf(stated), gripper };
}

/** Rounding of joints as a plan states them, radians. */
const SAME_JOINTS = 1e-4;

/** What is fixed to the flange of a handling robot at each of its steps. */
class HandlerLoads {
  private mounted: string | undefined;
  /** Index of the time of carrying that comes, or that lasts; and whether the arm has been home since the last. */
  private next = 0;
  private beenHome = true;
  private readonly made = new Map<string, LoadedArm>();

  constructor(
    private readonly context: ReplayContext,
    private readonly robot: Handler,
    steps: readonly Step[],
    private readonly times: readonly Carried[],
  ) {
    const first = steps.find((step) => step.do === 'grip' || step.do === 'change-gripper');
    this.mounted = first?.do === 'grip' ? first.gripper : undefined;
  }

  /** Of the step with this index; to be asked in order. */
  at(i: number, step: Step, motion: Motion | undefined): LoadedArm {
    while (this.next < this.times.length && this.times[this.next]!.release < i) {
      this.next += 1;
      this.beenHome = false;
    }
    if (step.do === 'grip') this.mounted = step.gripper;
    const carrying = this.times[this.next];
    const load = carrying && carrying.grip <= i ? this.of(this.next, true) : this.empty();
    const end = motion?.way.at(-1);
    if (end?.every((value, k) => Math.abs(value - this.robot.home[k]!) <= SAME_JOINTS)) this.beenHome = true;
    if (step.do === 'change-gripper') this.mounted = step.to;
    return load;
  }

  /** The gripper alone, its fingers as for the part that it comes for; on the way home as for the part just let go. */
  private empty(): LoadedArm {
    const { grippers } = this.context.cell;
    const gripper = grippers.find(({ id }) => id === this.mounted);
    const number = this.beenHome ? this.next : this.next - 1;
    if (gripper !== undefined && this.times[number]?.taken?.gripper === gripper)
      return this.of(number, false);
    return this.kept(`bare ${gripper?.id ?? ''}`, () =>
      loadedArm(this.robot, gripper ? bareGripperLoad(gripper) : []),
    );
  }

  private of(number: number, carries: boolean): LoadedArm {
    const { taken } = this.times[number]!;
    return this.kept(`${carries} ${number}`, () =>
      loadedArm(this.robot, taken ? gripLoad(taken, carries) : []),
    );
  }

  private kept(key: string, make: () => LoadedArm): LoadedArm {
    const load = this.made.get(key) ?? make();
    this.made.set(key, load);
    return load;
  }
}

const ordersOnly: readonly Step['do'][] = ['signal', 'await', 'enter', 'leave'];

/** The part that a stroke takes or has just let go of: what is done right after it, or was right before. */
function strokedPart(steps: readonly Step[], i: number): string | undefined {
  const next = steps.slice(i + 1).find((step) => !ordersOnly.includes(step.do));
  if (next?.do === 'grip') return next.part;
  const last = steps.slice(0, i).findLast((step) => !ordersOnly.includes(step.do));
  return last?.do === 'let-go' ? last.part : undefined;
}

interface Draft extends Omit<ArmStep, 'course'> {
  readonly way: Motion['way'];
  readonly loaded: LoadedArm;
}

/** Steps through which an arm stands with the same on its flange are one. */
function joined(drafts: readonly Draft[]): readonly Draft[] {
  const found: Draft[] = [];
  for (const draft of drafts) {
    const last = found.at(-1);
    const same =
      last?.kind === 'stand' &&
      draft.kind === 'stand' &&
      last.last + 1 === draft.first &&
      last.loaded === draft.loaded &&
      last.holds === draft.holds;
    if (same) found[found.length - 1] = { ...last, last: draft.last };
    else found.push(draft);
  }
  return found;
}

/** A robot whose program is empty stands at home all the time, before its first step and after its last. */
const idle = (robot: number, who: Handler | Welder): Replay => ({
  steps: [
    {
      ...{ robot, first: 0, last: -1, kind: 'stand', own: undefined, holds: false },
      course: new ArmCourse(loadedArm(who, who.duty === 'weld' ? torchLoad(who) : []), [who.home]),
    },
  ],
  brought: [],
});

/** Replays the program of a robot step by step. */
export function replay(
  context: ReplayContext,
  robot: number,
  who: Handler | Welder,
  steps: readonly Step[],
): Replay {
  if (steps.length === 0) return idle(robot, who);
  const motions = motionsOf(who, steps, tacksByName(context.plan));
  const times = carryings(steps).map((one) => ({ ...one, taken: takenPart(context, steps, one) }));
  const loads = who.duty === 'handle' ? new HandlerLoads(context, who, steps, times) : undefined;
  const torch = who.duty === 'weld' ? loadedArm(who, torchLoad(who)) : undefined;
  const drafts = steps.flatMap((step, i): Draft[] => {
    const motion = motions[i];
    const loaded = loads?.at(i, step, motion) ?? torch!;
    if (motion === undefined) return [];
    const carrying = times.find(({ grip, release }) => grip <= i && i <= release);
    const part = carrying?.part ?? (motion.kind === 'stroke' ? strokedPart(steps, i) : undefined);
    const own = part === undefined ? undefined : context.scene.index.get(part);
    const holds = carrying !== undefined && motion.kind === 'stand' && i >= carrying.inPlace;
    return [{ robot, first: i, last: i, ...motion, loaded, own, holds }];
  });
  return {
    steps: joined(drafts).map(({ way, loaded, ...step }) => ({
      ...step,
      course: new ArmCourse(loaded, way),
    })),
    brought: [
      ...times.flatMap(({ part, brought, inPlace }) => (brought ? [{ part, step: inPlace }] : [])),
      ...steps.flatMap((step, i) => (step.do === 'manual' ? [{ part: step.part, step: i }] : [])),
    ].flatMap(({ part, step }) => {
      const index = context.scene.index.get(part);
      return index === undefined ? [] : [{ part: index, step }];
    }),
  };
}
