import { snap } from '../base/order.js';
import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import type { Branch } from './inverse.js';
import { inverseBranches } from './inverse.js';
import type { ElbowMiss, LimitMiss, WristMiss } from './limits.js';
import { ANGLE_GRAIN, elbowMiss, limitMargin, limitMiss, wristMiss, wristSine } from './limits.js';
import type { DistanceMiss } from './wrist-centre.js';
import { distanceMiss } from './wrist-centre.js';

/** A branch the arm can really take: all joints inside their limits and the wrist bent enough. */
export interface Reachable extends Branch {
  /** Distance of the joint nearest to a limit from that limit, radians. */
  readonly margin: number;
  /** |sin t5|, how far the wrist is from being stretched. */
  readonly wristSine: number;
}

/** Why an arm cannot take a pose, by the number. */
export type ReachMiss = DistanceMiss | PostureMiss;

/** Why an arm may not take joints that it could be turned to. */
export type PostureMiss = LimitMiss | ElbowMiss | WristMiss;

/** Least |sin t5| unless the caller asks for another: the wrist is bent by two degrees. */
export const DEFAULT_WRIST_MARGIN = Math.sin((2 * Math.PI) / 180);

/**
 * The branches by which the arm can take the flange pose (base frame of the arm, mm), the largest margin to the
 * limits first and equal margins by index. Never an empty list.
 *
 * Fails with the nearest miss. A branch misses by the joint furthest past its limit, by its elbow or by the angle its wrist
 * lacks, whichever is more degrees; the branch that misses by fewest degrees is reported (equals by index).
 * Only when no branch exists is it a distance, the smaller of facing the place and turning away from it.
 */
export function reach(
  arm: Arm,
  flange: Pose,
  wristMargin: number = DEFAULT_WRIST_MARGIN,
): Result<readonly Reachable[], ReachMiss> {
  const branches = inverseBranches(arm, flange);
  if (branches.length === 0) return fail(nearestDistance(arm, flange));
  const reachable: Reachable[] = [];
  let nearest: PostureMiss | undefined;
  for (const branch of branches) {
    const miss = jointsMiss(arm, branch.joints, wristMargin);
    if (miss === undefined) reachable.push(withMargins(arm, branch));
    else if (nearest === undefined || lacking(miss) < lacking(nearest)) nearest = miss;
  }
  if (reachable.length === 0 && nearest !== undefined) return fail(nearest);
  return ok(reachable.sort((a, b) => b.margin - a.margin || a.index - b.index));
}

/** What forbids these joint values (radians, as they are, no turns added): the largest miss, or undefined. */
export function jointsMiss(arm: Arm, joints: Joints, wristMargin: number): PostureMiss | undefined {
  const limit = limitMiss(arm, joints);
  return larger(larger(limit, elbowMiss(arm, joints)), wristMiss(arm, joints, wristMargin));
}

/** The miss that lacks more, the first of equals. */
function larger(first: PostureMiss | undefined, next: PostureMiss | undefined): PostureMiss | undefined {
  if (first === undefined || next === undefined) return first ?? next;
  return lacking(next) > lacking(first) ? next : first;
}

const withMargins = (arm: Arm, branch: Branch): Reachable => ({
  ...branch,
  margin: limitMargin(arm, branch.joints),
  wristSine: wristSine(arm, branch.joints),
});

/** Degrees by which a miss fails. */
const lacking = (miss: PostureMiss): number =>
  snap(miss.kind === 'wrist-singular' ? miss.needed - miss.degrees : miss.degrees, ANGLE_GRAIN);

/** The smaller of the two distance misses of a pose that no branch takes; facing it where they are equal. */
export function nearestDistance(arm: Arm, flange: Pose): DistanceMiss {
  const misses = (['front', 'back'] as const).flatMap(
    (shoulder) => distanceMiss(arm, flange, shoulder) ?? [],
  );
  return misses.reduce((best, miss) => (snap(miss.missing - best.missing, 1e-9) < 0 ? miss : best));
}
