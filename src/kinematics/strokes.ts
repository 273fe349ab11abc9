import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import { reach, type Reachable, type ReachMiss } from './reach.js';
import { followStraight, type JointMiss } from './straight-move.js';

/** Joints at a pose and at the far ends of the straight strokes from it, all in one branch. */
export interface Strokes {
  /** Of the branch, 0 to 7. */
  readonly branch: number;
  readonly joints: Joints;
  readonly ends: readonly Joints[];
  /** Joints along each stroke, from the pose to its end, both included. */
  readonly ways: readonly (readonly Joints[])[];
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
 * Every branch in which the arm takes `flange` (in its base frame) and can follow a straight stroke to each of `ends`,
 * or why it cannot, the one with the largest margin first; one miss when no branch takes the pose itself.
 */
export function* eachStrokes(
  arm: Arm,
  flange: Pose,
  ends: readonly Pose[],
): Generator<Result<Strokes, StrokeMiss>> {
  const branches = reach(arm, flange);
  if (!branches.ok) yield fail({ miss: branches.error, end: undefined });
  else for (const branch of branches.value) yield strokesIn(arm, branch, flange, ends);
}

function strokesIn(
  arm: Arm,
  { index: branch, joints, margin }: Reachable,
  flange: Pose,
  ends: readonly Pose[],
): Result<Strokes, StrokeMiss> {
  const ways: (readonly Joints[])[] = [];
  for (const [i, end] of ends.entries()) {
    const followed = followStraight(arm, flange, end, joints, STROKE_STEP);
    if (!followed.ok) {
      const whole = reach(arm, end);
      return fail({ miss: whole.ok ? followed.error.miss : whole.error, end: i });
    }
    ways.push(followed.value);
  }
  return ok({ branch, joints, margin, ways, ends: ways.map((way) => way.at(-1)!) });
}

/** The first of `eachStrokes` that can be done, or the first miss. */
export function strokes(arm: Arm, flange: Pose, ends: readonly Pose[]): Result<Strokes, StrokeMiss> {
  let first: StrokeMiss | undefined;
  for (const found of eachStrokes(arm, flange, ends)) {
    if (found.ok) return found;
    first ??= found.error;
  }
  return fail(first!);
}
