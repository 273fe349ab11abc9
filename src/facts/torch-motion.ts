import { Kept } from '../base/kept.js';
import { intersects, setOf, union, type PartSet } from '../base/part-set.js';
import { axisZ, type Pose } from '../geometry/pose.js';
import { dot, negate, subtract } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { MARGIN_GRAIN } from '../kinematics/pose-margin.js';
import type { Welder } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { torchLoad, type ArmHits, type ArmRoom } from './arm-room.js';
import { Routes } from './routes.js';
import type { TackSite } from './tack-sites.js';
import { tipPoses, TorchRanking, type TorchCandidate } from './torch-ranking.js';
import { torchMiss } from './torch-miss.js';
import { followTorch, type TorchStrokes } from './torch-strokes.js';
import { neckSpace, spaceHits, type SweptSpace } from './torch-space.js';
import type { TorchWay } from './torch-ways.js';
import type { StrokeEnd } from './ways-out.js';

/** How a welding arm lays one tack: onto the seam, along it, away from it, in one branch. */
export interface TorchMotion extends TorchStrokes {
  /** Id of the welding robot. */
  readonly robot: string;
  /** How far the foot of its arm stands out on the open side of the seam, mm; negative behind it. */
  readonly onOpenSide: number;
  readonly way: TorchWay;
  /** 0 to 7, as inverseBranches numbers them. */
  readonly branch: number;
  /** Least distance to a joint limit, and of the wrist to the bend it needs, at the ends of the strokes; radians. */
  readonly margin: number;
  readonly start: Pose;
  readonly end: Pose;
  /** Room of what is between torch body and flange. */
  readonly neck: SweptSpace;
  /** Parts that are in the room of the neck, or that the links of the arm meet in the strokes. */
  readonly hits: PartSet;
  /** From home to `clear`, and from `leave` home. */
  readonly come: Routes;
  readonly go: Routes;
}

/** Where the torch is drawn back from a tack, before it and after it. */
export const comingToTack = ({ clear, start }: Pick<TorchMotion, 'clear' | 'start'>): StrokeEnd => ({
  joints: clear,
  away: negate(axisZ(start.turn)),
});
export const leavingTack = ({ leave, end }: Pick<TorchMotion, 'leave' | 'end'>): StrokeEnd => ({
  joints: leave,
  away: negate(axisZ(end.turn)),
});

/** What is asked of a motion, in this order: cheap questions first. */
export interface TorchTest {
  readonly way: (way: TorchWay) => boolean;
  /** The joints at the start of the tack, before its strokes are followed. */
  readonly posture?: (joints: Joints) => boolean;
  readonly motion: (motion: TorchMotion) => boolean;
}

/** Asks for a motion that is clear of the parts present. */
export const clearOf = (present: PartSet): TorchTest => ({
  way: ({ hits }) => !intersects(hits, present),
  motion: ({ hits, come, go }) =>
    !intersects(hits, present) && come.first(present) !== undefined && go.first(present) !== undefined,
});

/** Motions of one welding arm for one tack site, the largest margin first, found as far as they are asked for. */
export class TorchMotions {
  private readonly ranking: TorchRanking;
  /** By place in the ranking; undefined for a candidate that was followed and does not do. */
  private readonly followed: (TorchMotion | undefined)[] = [];
  private readonly linkHits = new Kept<ArmHits>();
  /** What is fixed and met by a link of the arm. */
  private armMeets: string | undefined;
  /** By way and roll: the room of the neck, undefined where the table or a keep-out is in it. */
  private readonly necks = new Map<
    string,
    { readonly space: SweptSpace; readonly hits: PartSet } | undefined
  >();

  constructor(
    private readonly scene: Scene,
    private readonly welder: Welder,
    private readonly settings: Settings,
    private readonly room: ArmRoom,
    private readonly site: TackSite,
  ) {
    this.ranking = new TorchRanking(welder, site.ways, settings.motion['torch-stroke']);
  }

  /** The motion with the largest margin that suits. */
  firstThat(test: TorchTest): TorchMotion | undefined {
    for (let i = 0; ; i += 1) {
      const candidate = this.ranking.at(i);
      if (candidate === undefined) return undefined;
      if (!test.way(candidate.way)) continue;
      if (test.posture && !test.posture(candidate.joints)) continue;
      if (!(i in this.followed)) this.followed[i] = this.accepted(candidate);
      const motion = this.followed[i];
      if (motion && test.motion(motion)) return motion;
    }
  }

  /** The motion of a candidate whose strokes the arm can follow, clear of what is always there. */
  private accepted(candidate: TorchCandidate): TorchMotion | undefined {
    const { way, roll, branch, margin } = candidate;
    const strokes = followTorch(this.welder, candidate, this.settings.motion['torch-stroke']);
    if (strokes === undefined) return undefined;
    const neck = this.neck(way, roll);
    if (neck === undefined) return undefined;
    const met = this.armHits(candidate, strokes);
    if (met.fixed !== undefined) {
      this.armMeets ??= met.fixed;
      return undefined;
    }
    const { start, end } = tipPoses(way, roll, this.settings.motion['torch-stroke']);
    const load = torchLoad(this.welder);
    return {
      robot: this.welder.id,
      onOpenSide: dot(this.site.open, subtract(this.welder.base.at, this.site.middle)),
      ...{ way, branch, margin: margin * MARGIN_GRAIN, start, end, ...strokes },
      ...{ neck: neck.space, hits: union(neck.hits, met.parts) },
      come: new Routes(this.room, load, 'home', comingToTack({ clear: strokes.clear, start })),
      go: new Routes(this.room, load, leavingTack({ leave: strokes.leave, end }), 'home'),
    };
  }

  /** What the links meet in the strokes; the two bends of the wrist take the same room. */
  private armHits({ way, roll, branch }: TorchCandidate, { strokes }: TorchStrokes): ArmHits {
    const key = `${this.site.ways.indexOf(way)} ${roll} ${branch >> 1}`;
    return this.linkHits.get(key, () => this.room.hits([], strokes));
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
    const { parts, table, keepOuts } = this.scene;
    const { 'torch-stroke': stroke, 'touch-tolerance': tolerance } = this.settings.motion;
    const { start, end } = tipPoses(way, roll, stroke);
    const space = neckSpace(start, end, this.welder.torch, stroke);
    if ([table, ...keepOuts].some((solid) => spaceHits(space, solid, tolerance))) return undefined;
    const hits = parts.flatMap(({ solid }, i) => (spaceHits(space, solid, tolerance) ? [i] : []));
    return { space, hits: setOf(parts.length, hits) };
  }

  /**
   * Where no motion suits, whatever stops every candidate that the test lets through: the arm, or else the neck of the torch.
   */
  refusal(test: TorchTest): Refusal | undefined {
    // What the arm and the neck meet is known once every candidate was looked at.
    if (this.firstThat(test)) return undefined;
    const { way } = test;
    const { joint, seam, ways } = this.site;
    const { welder } = this;
    const subjects = [joint.id, seam.id, welder.id];
    if (this.armMeets !== undefined) return { code: 'arm-blocked', subjects: [...subjects, this.armMeets] };
    const neck = [...this.necks.keys()].some((key) => way(ways[Number(key.split(' ')[0])]!));
    if (neck) return { code: 'torch-neck', subjects };
    const stroke = this.settings.motion['torch-stroke'];
    return torchMiss(welder, ways.filter(way), stroke, subjects) ?? { code: 'torch-blocked', subjects };
  }
}
