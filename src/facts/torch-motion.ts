import { setOf, type PartSet } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';
import { compose, inverse, multiply, rotate, translate, turnAbout, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP, strokes } from '../kinematics/strokes.js';
import { torchFlange } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { isNearer } from './nearest-miss.js';
import { reachRefusal } from './reach-refusal.js';
import type { TackSite, TorchWay } from './tack-sites.js';
import { neckSpace, spaceHits, type SweptSpace } from './torch-space.js';

/** How the welding arm lays one tack: onto the seam, along it, away from it, in one branch. */
export interface TorchMotion {
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

const ROLLS = 12;

/** Rolls about the wire in the order they are tried: 0, 30, -30, 60, ... degrees, the least turn from the seam first. */
const rollAt = (i: number): number => (Math.ceil(i / 2) * (i % 2 === 0 ? -1 : 1) * 2 * Math.PI) / ROLLS;

/** Motions of the welding arm for one torch way, one for each roll that the arm can do, found one at a time. */
export class TorchMotions {
  private readonly found: TorchMotion[] = [];
  private next = 0;
  private nearest: Refusal | undefined;

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly site: TackSite,
    private readonly way: TorchWay,
  ) {}

  /** The first motion that suits, in the order of rolls; the nearest miss of all rolls when the arm can do none. */
  firstThat(suits: (motion: TorchMotion) => boolean): Result<TorchMotion, Refusal> {
    for (let i = 0; i < this.found.length || this.next < ROLLS; i += 1) {
      while (i >= this.found.length && this.next < ROLLS) this.tryNextRoll();
      const motion = this.found[i];
      if (motion && suits(motion)) return ok(motion);
    }
    const { joint, seam } = this.site;
    return fail(
      this.nearest ?? { code: 'torch-neck', subjects: [joint.id, seam.id, this.scene.cell.welder.id] },
    );
  }

  private tryNextRoll(): void {
    const roll = turnAbout([0, 0, 1], rollAt(this.next));
    this.next += 1;
    const rolled = (tip: Pose): Pose => ({ at: tip.at, turn: multiply(tip.turn, roll) });
    const motion = this.motion(rolled(this.way.start), rolled(this.way.end));
    if (motion.ok) {
      if (!this.hitsFixed(motion.value.neck)) this.found.push(motion.value);
    } else if (isNearer(motion.error, this.nearest)) this.nearest = motion.error;
  }

  private motion(start: Pose, end: Pose): Result<TorchMotion, Refusal> {
    const { welder } = this.scene.cell;
    const stroke = this.settings.motion['torch-stroke'];
    const toBase = inverse(welder.base);
    const back: Vec3 = rotate(start.turn, [0, 0, -stroke]);
    const flange = (tip: Pose): Pose => compose(toBase, torchFlange(tip, welder.torch));
    const subjects = [this.site.joint.id, this.site.seam.id, welder.id];
    const reached = strokes(welder.arm, flange(start), [flange(translate(start, back)), flange(end)]);
    if (!reached.ok) return fail(reachRefusal(reached.error, subjects));
    const [clear, jointsEnd] = reached.value.ends as [Joints, Joints];
    const away = flange(translate(end, back));
    const left = followStraight(welder.arm, flange(end), away, jointsEnd, STROKE_STEP);
    if (!left.ok) return fail(reachRefusal({ miss: left.error.miss, end: undefined }, subjects));
    const neck = neckSpace(start, end, welder.torch, stroke);
    const leave = left.value.at(-1)!;
    return ok({
      start,
      end,
      clear,
      joints: reached.value.joints,
      jointsEnd,
      leave,
      neck,
      hits: this.hits(neck),
    });
  }

  private hits(neck: SweptSpace): PartSet {
    const { parts } = this.scene;
    const tolerance = this.settings.motion['touch-tolerance'];
    return setOf(
      parts.length,
      parts.flatMap(({ solid }, i) => (spaceHits(neck, solid, tolerance) ? [i] : [])),
    );
  }

  private hitsFixed(neck: SweptSpace): boolean {
    const tolerance = this.settings.motion['touch-tolerance'];
    return [this.scene.table, ...this.scene.keepOuts].some((solid) => spaceHits(neck, solid, tolerance));
  }
}
