import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Joints } from '../kinematics/arm.js';
import type { Strokes } from '../kinematics/strokes.js';
import { robotsOf, welderNamed, type Cell, type Handler, type Welder } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { StationName } from '../model/stations.js';
import type { Refusal } from '../model/verdict.js';
import type { Approach } from './approaches.js';
import type { Facts } from './facts.js';
import type { Grip } from './grips.js';
import { GripReach, type GripStrokes } from './grip-strokes.js';
import type { Joint, JointSeam } from './joints.js';
import type { TackSite } from './tack-sites.js';
import type { Spot } from './spots.js';
import { torchMiss } from './torch-miss.js';
import { TorchRanking } from './torch-ranking.js';
import { followTorch } from './torch-strokes.js';

/**
 * Something that an arm must get to: a part at a station (`table`: its final place), a seam on the work table, or
 * the stand of a gripper.
 */
export type ReachTarget =
  | { readonly station: StationName | 'table'; readonly part: number }
  | { readonly station: 'table'; readonly joint: Joint; readonly seam: JointSeam }
  | { readonly station: 'stand'; readonly gripper: string };

/** The ways by which targets may be reached. */
export interface ReachOptions {
  /** Grips of every robot. */
  readonly grips: (part: number) => readonly Grip[];
  readonly spots: (part: number) => readonly Spot[];
  readonly approaches: (part: number) => readonly Approach[];
  /** Of a welding robot. */
  readonly sites: (joint: Joint, seam: JointSeam, robot: string) => readonly TackSite[];
}

/** One question to an arm: its joints at a pose and at the ends of the strokes, or by how much it misses. */
export type ReachTry = () => Result<readonly Joints[], Refusal>;

/** The ways that a plan may use: usable grips, and approaches that the table and the keep-outs leave. */
export const usableOptions = (facts: Facts): ReachOptions => ({
  grips: (part) => facts.usableGrips(part),
  spots: (part) => facts.spots(part),
  approaches: (part) => facts.approaches(part).filter(({ fixedHit }) => fixedHit === undefined),
  sites: (joint, seam, robot) => facts.sites(joint, seam, robot),
});

/**
 * Every target of a weldment in a cell: parts that robots bring, the seams between them, and stands of the grippers where
 * there are several. A seam of a part that a person sets is tacked by robots only if the other part comes later, so that it
 * is no target.
 */
export function targetsOf({ scene, joints }: Facts): readonly ReachTarget[] {
  const stations = [
    'infeed',
    'regrip',
    ...(scene.cell.twoSided ? ['two-sided' as const] : []),
    'table',
  ] as const;
  const { grippers } = scene.cell;
  const isBrought = (part: number): boolean => scene.parts[part]!.part.manual === undefined;
  const brought = scene.parts.flatMap((_, part) => (isBrought(part) ? [part] : []));
  const tacked = joints.filter(({ a, b }) => isBrought(a) && isBrought(b));
  return [
    ...stations.flatMap((station) => brought.map((part) => ({ station, part }))),
    ...tacked.flatMap((joint) => joint.seams.map((seam) => ({ station: 'table' as const, joint, seam }))),
    ...(grippers.length > 1 ? grippers.map(({ id }) => ({ station: 'stand' as const, gripper: id })) : []),
  ];
}

/** The robots that may serve a target. */
export const robotsFor = (cell: Cell, target: ReachTarget): readonly string[] =>
  ('seam' in target ? cell.welders : cell.handlers).map(({ id }) => id);

/** Asks the arms of one scene, whatever other parts are in the way. */
export class ReachTries {
  private readonly reaches: ReadonlyMap<string, GripReach>;

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly options: ReachOptions,
  ) {
    this.reaches = new Map(
      scene.cell.handlers.map((robot) => [robot.id, new GripReach(scene, robot, settings)]),
    );
  }

  /**
   * Questions by which a robot gets to a target, in groups: one for each grip or tack site (for a stand, one). A group
   * is reached when one of its questions is answered with joints.
   */
  groups(target: ReachTarget, robot: string): readonly (readonly ReachTry[])[] {
    if ('seam' in target)
      return this.options
        .sites(target.joint, target.seam, robot)
        .map((site) => (site.ways.length === 0 ? [] : [() => this.torch(site, robot)]));
    const reach = this.reaches.get(robot)!;
    if (target.station === 'stand') return [[() => this.stand(reach, robot, target.gripper)]];
    const { station, part } = target;
    const grips = this.options.grips(part).filter((grip) => grip.robot.id === robot);
    if (station === 'table') {
      const approaches = this.options.approaches(part);
      return grips.map((grip) =>
        approaches.map((approach) => () => jointsOf(reach.followed(reach.place(part, grip, approach)))),
      );
    }
    const spots = this.options.spots(part).filter((spot) => spot.station === station);
    return grips.map((grip) =>
      spots.flatMap((spot) => [
        () => this.handled(reach, reach.take(part, grip, spot)),
        ...(station === 'infeed' ? [] : [() => this.handled(reach, reach.setDown(part, grip, spot))]),
      ]),
    );
  }

  private handled(reach: GripReach, asked: Result<GripStrokes, Refusal>): Result<readonly Joints[], Refusal> {
    return asked.ok ? jointsOf(reach.followed(asked.value)) : asked;
  }

  /** The torch pose with the largest margin whose strokes the arm follows, or the nearest miss. */
  private torch({ joint, seam, ways }: TackSite, robot: string): Result<readonly Joints[], Refusal> {
    const welder = welderNamed(this.scene.cell, robot)!;
    const stroke = this.settings.motion['torch-stroke'];
    const ranking = new TorchRanking(welder, ways, stroke);
    for (let i = 0, candidate = ranking.at(0); candidate; candidate = ranking.at((i += 1))) {
      const found = followTorch(welder, candidate, stroke);
      if (found) return ok([found.joints, found.clear, found.jointsEnd, found.leave]);
    }
    const subjects = [joint.id, seam.id, welder.id];
    return fail(torchMiss(welder, ways, stroke, subjects) ?? { code: 'torch-blocked', subjects });
  }

  private stand(reach: GripReach, robot: string, id: string): Result<readonly Joints[], Refusal> {
    const [joints] = reach.overStand(this.scene.cell.grippers.find((gripper) => gripper.id === id)!);
    return joints ? ok([joints]) : fail({ code: 'stand-out-of-reach', subjects: [id, robot] });
  }
}

const jointsOf = (found: Result<Strokes, Refusal>): Result<readonly Joints[], Refusal> =>
  found.ok ? ok([found.value.joints, ...found.value.ends]) : found;

/** The arm of a robot of a cell by its id. */
export const robotOf = (cell: Cell, id: string): Handler | Welder =>
  robotsOf(cell).find((robot) => robot.id === id)!;
