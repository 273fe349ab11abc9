import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import { reach, type ReachMiss } from './reach.js';
import { followStraight, type JointMiss } from './straight-move.js';

/** Joints at a pose and at the far ends of the straight strokes from it, all in one branch. */
export interface Strokes {
  readonly joints: Joints;
  readonly ends: readonly Joints[];
  /** Distance of the joint nearest to a limit from that limit at the pose, radians. */
  readonly margin: number;
}

/** Why no branch can take the pose with all its strokes; `end` is the stroke that failed, undefined for the pose. */
export interface StrokeMiss {
  readonly miss: ReachMiss | JointMiss;
  readonly end: number | undefined;
}

/** Samples of a straight stroke are at most this far apart, mm. */
export const STROKE_STEP = 25;

/**
 * The branch with the largest margin in which the arm takes `flange` (in its base frame) and can follow a straight
 * stroke to each of `ends`.
 */
export function strokes(arm: Arm, flange: Pose, ends: readonly Pose[]): Result<Strokes, StrokeMiss> {
  const branches = reach(arm, flange);
  if (!branches.ok) return fail({ miss: branches.error, end: undefined });
  let first: StrokeMiss | undefined;
  for (const { joints, margin } of branches.value) {
    const reached: Joints[] = [];
    for (const [i, end] of ends.entries()) {
      const followed = followStraight(arm, flange, end, joints, STROKE_STEP);
      if (followed.ok) reached.push(followed.value.at(-1)!);
      else {
        const whole = reach(arm, end);
        first ??= { miss: whole.ok ? followed.error.miss : whole.error, end: i };
        break;
      }
    }
    if (reached.length === ends.length) return ok({ joints, ends: reached, margin });
  }
  return fail(first!);
}
