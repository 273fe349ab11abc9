import { Kept } from '../base/kept.js';
import { has, withMember, type PartSet } from '../base/part-set.js';
import type { Approach } from '../facts/approaches.js';
import type { Facts } from '../facts/facts.js';
import type { Grip } from '../facts/grips.js';
import { solidsOverlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate, type Vec3 } from '../geometry/vector.js';
import { gripperSolid, padsInCell } from '../model/placement.js';
import type { Way } from './ways.js';
import type { StageTack } from './stage-draft.js';
import type { AlsoHeld } from './other-hold.js';

/** A part that the robot which brought it keeps holding while the next one comes, and the tacks it has by then. */
export interface KeptHold extends AlsoHeld {
  readonly tacks: readonly StageTack[];
}

/** A way of a newcomer beside a kept hold, and that hold with its way home once the newcomer is in place. */
export interface Beside {
  readonly way: Way;
  readonly kept: KeptHold;
}

/** What a gripper that keeps holding is in the way of. Answers are kept. */
export class KeptHolds {
  private readonly answers: Kept<boolean>;

  constructor(private readonly facts: Facts) {
    this.answers = new Kept(facts.keeping);
  }

  /**
   * Whether a newcomer gets into place along an approach by a grip while the gripper of a kept hold is there, its own
   * gripper gets away again, and so does the other, with the newcomer and its gripper in place.
   */
  clear(part: number, { grip, approach }: Pick<Way, 'grip' | 'approach'>, kept: KeptHold): boolean {
    const index = this.facts.approaches(part).indexOf(approach);
    const key = `${part} ${grip.id} ${index} ${kept.part} ${kept.grip.id}`;
    return this.answers.get(key, () => {
      const met = has(this.facts.holdHits(kept.part, kept.grip).parts, part);
      return !met && this.isClear(part, grip, approach, kept);
    });
  }

  /**
   * The way with the arms kept apart: the newcomer's in its strokes and on its way from home, while the other stands
   * still; the other on its way home, while the newcomer's does. Undefined where they meet.
   */
  beside(part: number, inPlace: PartSet, way: Way, kept: KeptHold): Beside | undefined {
    const { facts } = this;
    const { grip, place } = way;
    const standing = facts.standing(kept.part, kept.grip, kept.motion);
    if (!facts.strokesClear(part, grip, place, standing)) return undefined;
    const come = place.come.first(inPlace, [standing]);
    const own = facts.standing(part, grip, place);
    if (!come || !facts.strokesClear(kept.part, kept.grip, kept.motion, own)) return undefined;
    const go = kept.motion.go.first(withMember(inPlace, part), [own]);
    return go && { way: { ...way, come }, kept: { ...kept, go } };
  }

  private isClear(part: number, grip: Grip, approach: Approach, kept: KeptHold): boolean {
    const { scene, settings } = this.facts;
    const { 'touch-tolerance': tolerance, 'approach-distance': drawBack } = settings.motion;
    const [own, other] = [this.gripper(part, grip), this.gripper(kept.part, kept.grip)];
    const back = negate(approach.direction);
    const hits = (moving: Solid, way: Vec3, travel: number, fixed: Solid): boolean =>
      sweepHits(moving, way, travel, fixed, tolerance);
    return !(
      solidsOverlap(own.solid, other.solid, tolerance) ||
      solidsOverlap(scene.parts[part]!.solid, other.solid, tolerance) ||
      hits(scene.parts[part]!.solid, back, approach.distance, other.solid) ||
      hits(own.solid, back, approach.distance, other.solid) ||
      hits(own.solid, own.away, drawBack, other.solid) ||
      hits(other.solid, other.away, drawBack, own.solid)
    );
  }

  private gripper(part: number, grip: Grip): { readonly solid: Solid; readonly away: Vec3 } {
    const { part: given, pose } = this.facts.scene.parts[part]!;
    return {
      solid: gripperSolid(given.shape, pose, grip, grip.gripper),
      away: negate(padsInCell(given.shape, pose, grip, grip.gripper).into),
    };
  }
}
