import { intersects, setOf, type PartSet } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Joints } from '../kinematics/arm.js';
import { MARGIN_GRAIN } from '../kinematics/pose-margin.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { TackSite } from './tack-sites.js';
import { tipPoses, TorchFlange, TorchRanking, type TorchCandidate } from './torch-ranking.js';
import { torchMiss } from './torch-miss.js';
import { neckSpace, spaceHits, type SweptSpace } from './torch-space.js';
import type { TorchWay } from './torch-ways.js';

/** How the welding arm lays one tack: onto the seam, along it, away from it, in one branch. */
export interface TorchMotion {
  readonly way: TorchWay;
  /** 0 to 7, as inverseBranches numbers them. */
  readonly branch: number;
  /** Least distance to a joint limit, and of the wrist to the bend it needs, at the ends of the strokes; radians. */
  readonly margin: number;
  readonly start: Pose;
  readonly end: Pose;
  readonly clear: Joints;
  readonly joints: Joints;
  readonly jointsEnd: Joints;
  readonly leave: Joints;
  /** Room of what is between torch body and flange, and the parts that are in it. */
  readonly neck: SweptSpace;
  readonly hits: PartSet;
}

/** What is asked of a motion; the way is asked first, before the arm is looked at. */
export interface TorchTest {
  readonly way: (way: TorchWay) => boolean;
  readonly motion: (motion: TorchMotion) => boolean;
}

/** Asks for a motion that is clear of the parts present. */
export const clearOf = (present: PartSet): TorchTest => ({
  way: ({ hits }) => !intersects(hits, present),
  motion: ({ hits }) => !intersects(hits, present),
});

/** Motions of the welding arm for one tack site, the largest margin first, found as far as they are asked for. */
export class TorchMotions {
  private readonly ranking: TorchRanking;
  private readonly flange: TorchFlange;
  /** By place in the ranking; undefined for a candidate that was followed and does not do. */
  private readonly followed: (TorchMotion | undefined)[] = [];
  /** By way and roll: the room of the neck, undefined where the table or a keep-out is in it. */
  private readonly necks = new Map<
    string,
    { readonly space: SweptSpace; readonly hits: PartSet } | undefined
  >();

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly site: TackSite,
  ) {
    const { welder } = scene.cell;
    this.ranking = new TorchRanking(welder, site.ways, settings.motion['torch-stroke']);
    this.flange = new TorchFlange(welder);
  }

  /** The motion with the largest margin that suits, or why there is none. */
  firstThat(test: TorchTest): Result<TorchMotion, Refusal> {
    for (let i = 0; ; i += 1) {
      const candidate = this.ranking.at(i);
      if (candidate === undefined) return fail(this.refusal(test));
      if (!test.way(candidate.way)) continue;
      if (!(i in this.followed)) this.followed[i] = this.accepted(candidate);
      const motion = this.followed[i];
      if (motion && test.motion(motion)) return ok(motion);
    }
  }

  /** The motion of a candidate whose strokes the arm can follow, clear of what is always there. */
  private accepted(candidate: TorchCandidate): TorchMotion | undefined {
    const { way, roll, branch, margin } = candidate;
    const strokes = this.strokes(candidate);
    if (strokes === undefined) return undefined;
    const neck = this.neck(way, roll);
    if (neck === undefined) return undefined;
    const { start, end } = tipPoses(way, roll, this.settings.motion['torch-stroke']);
    return {
      ...{ way, branch, margin: margin * MARGIN_GRAIN, start, end, ...strokes },
      ...{ neck: neck.space, hits: neck.hits },
    };
  }

  private strokes({
    way,
    roll,
    joints,
  }: TorchCandidate): Pick<TorchMotion, 'clear' | 'joints' | 'jointsEnd' | 'leave'> | undefined {
    const { arm } = this.scene.cell.welder;
    const tips = tipPoses(way, roll, this.settings.motion['torch-stroke']);
    const follow = (from: Pose, to: Pose, at: Joints): Joints | undefined => {
      const way = followStraight(arm, this.flange.of(from), this.flange.of(to), at, STROKE_STEP);
      return way.ok ? way.value.at(-1)! : undefined;
    };
    const clear = follow(tips.start, tips.clear, joints);
    const jointsEnd = clear && follow(tips.start, tips.end, joints);
    const leave = jointsEnd && follow(tips.end, tips.leave, jointsEnd);
    return clear && jointsEnd && leave && { clear, joints, jointsEnd, leave };
  }

  private neck(
    way: TorchWay,
    roll: number,
  ): { readonly space: SweptSpace; readonly hits: PartSet } | undefined {
    const key = `${this.site.ways.indexOf(way)} ${roll}`;
    if (!this.necks.has(key)) this.necks.set(key, this.neckAt(way, roll));
    return this.necks.get(key);
  }

  private neckAt(
    way: TorchWay,
    roll: number,
  ): { readonly space: SweptSpace; readonly hits: PartSet } | undefined {
    const { parts, cell, table, keepOuts } = this.scene;
    const { 'torch-stroke': stroke, 'touch-tolerance': tolerance } = this.settings.motion;
    const { start, end } = tipPoses(way, roll, stroke);
    const space = neckSpace(start, end, cell.welder.torch, stroke);
    if ([table, ...keepOuts].some((solid) => spaceHits(space, solid, tolerance))) return undefined;
    const hits = parts.flatMap(({ solid }, i) => (spaceHits(space, solid, tolerance) ? [i] : []));
    return { space, hits: setOf(parts.length, hits) };
  }

  /** Whatever stops every candidate that the test lets through: the arm, or else the neck of the torch. */
  private refusal({ way }: TorchTest): Refusal {
    const { joint, seam, ways } = this.site;
    const { welder } = this.scene.cell;
    const subjects = [joint.id, seam.id, welder.id];
    const neck = [...this.necks.keys()].some((key) => way(ways[Number(key.split(' ')[0])]!));
    if (neck) return { code: 'torch-neck', subjects };
    const stroke = this.settings.motion['torch-stroke'];
    return torchMiss(welder, ways.filter(way), stroke, subjects) ?? { code: 'torch-blocked', subjects };
  }
}
