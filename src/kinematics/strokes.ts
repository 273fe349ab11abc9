import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import { admissibleTurns, limitMargin } from './limits.js';
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
 * stroke to each of `ends`. Each branch is first tried with its joints turned to their largest margin; when none will
 * do, the other whole turns are tried of those branches whose stroke ran a joint into its limit.
 */
export function strokes(arm: Arm, flange: Pose, ends: readonly Pose[]): Result<Strokes, StrokeMiss> {
  const branches = reach(arm, flange);
  if (!branches.ok) return fail({ miss: branches.error, end: undefined });
  const stopped: { readonly joints: Joints; readonly at: StrokeMiss }[] = [];
  for (const { joints, margin } of branches.value) {
    const tried = strokesFrom(arm, flange, ends, joints, margin);
    if (tried.ok) return tried;
    stopped.push({ joints, at: tried.error });
  }
  for (const { joints, at } of stopped) {
    const { miss } = at;
    if (miss.kind !== 'limit') continue;
    const others = admissibleTurns(arm, joints).filter(
      (turned) => turned[miss.joint - 1] !== joints[miss.joint - 1],
    );
    for (const turned of others) {
      const tried = strokesFrom(arm, flange, ends, turned, limitMargin(arm, turned));
      if (tried.ok) return tried;
    }
  }
  const first = stopped[0]!.at;
  const whole = reach(arm, ends[first.end!]!);
  return fail(whole.ok ? first : { ...first, miss: whole.error });
}

/** The strokes from one set of joints, or the first that fails and why. */
function strokesFrom(
  arm: Arm,
  flange: Pose,
  ends: readonly Pose[],
  joints: Joints,
  margin: number,
): Result<Strokes, StrokeMiss> {
  const reached: Joints[] = [];
  for (const [i, end] of ends.entries()) {
    const followed = followStraight(arm, flange, end, joints, STROKE_STEP);
    if (!followed.ok) return fail({ miss: followed.error.miss, end: i });
    reached.push(followed.value.at(-1)!);
  }
  return ok({ joints, ends: reached, margin });
}
