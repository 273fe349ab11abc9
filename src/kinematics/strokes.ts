import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import { admissibleTurns, limitMargin } from './limits.js';
import { reach, type ReachMiss } from './reach.js';
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
 * Every branch in which the arm takes `flange` (in its base frame) and can follow a straight stroke to each of `ends`
 * (followed once where two are the same object), or why it cannot, the one with the largest margin first; one miss when no branch takes the pose itself. Each branch is
 * tried with its joints turned to their largest margin; after all of them come the other whole turns of those whose
 * stroke ran a joint into its limit, as far as they can be followed.
 */
export function* eachStrokes(
  arm: Arm,
  flange: Pose,
  ends: readonly Pose[],
): Generator<Result<Strokes, StrokeMiss>> {
  const branches = reach(arm, flange);
  if (!branches.ok) {
    yield fail({ miss: branches.error, end: undefined });
    return;
  }
  const stopped: { readonly start: Start; readonly joint: number }[] = [];
  for (const { index: branch, joints, margin } of branches.value) {
    const start = { branch, joints, margin };
    const found = strokesFrom(arm, start, flange, ends);
    if (!found.ok && found.error.miss.kind === 'limit')
      stopped.push({ start, joint: found.error.miss.joint - 1 });
    yield found.ok ? found : fail(wholeMiss(arm, ends, found.error));
  }
  for (const { start, joint } of stopped)
    for (const joints of admissibleTurns(arm, start.joints)) {
      if (joints[joint] === start.joints[joint]) continue;
      const turned = { branch: start.branch, joints, margin: limitMargin(arm, joints) };
      const found = strokesFrom(arm, turned, flange, ends);
      if (found.ok) yield found;
    }
}

type Start = Pick<Strokes, 'branch' | 'joints' | 'margin'>;

function strokesFrom(
  arm: Arm,
  start: Start,
  flange: Pose,
  ends: readonly Pose[],
): Result<Strokes, StrokeMiss> {
  const ways: (readonly Joints[])[] = [];
  for (const [i, end] of ends.entries()) {
    const same = ways[ends.indexOf(end)];
    if (same) {
      ways.push(same);
      continue;
    }
    const followed = followStraight(arm, flange, end, start.joints, STROKE_STEP);
    if (!followed.ok) return fail({ miss: followed.error.miss, end: i });
    ways.push(followed.value);
  }
  return ok({ ...start, ways, ends: ways.map((way) => way.at(-1)!) });
}

/** Where a stroke breaks its excess is small by nature; the miss of its far end says the whole of it. */
function wholeMiss(arm: Arm, ends: readonly Pose[], stopped: StrokeMiss): StrokeMiss {
  const whole = reach(arm, ends[stopped.end!]!);
  return whole.ok ? stopped : { ...stopped, miss: whole.error };
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
