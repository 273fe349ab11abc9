import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, JointNumber, Joints } from './arm.js';
import { toDegrees } from './arm.js';
import { inverseBranch, inverseBranches } from './inverse.js';
import { turnedNearJoints } from './limits.js';
import type { ReachMiss } from './reach.js';
import { DEFAULT_WRIST_MARGIN, jointsMiss, nearestDistance } from './reach.js';
import type { StraightPath } from './straight-path.js';
import { straightPath } from './straight-path.js';

/** A joint would have to turn at once (`jump`), or the given start does not take the first pose (`elsewhere`). */
export interface JointMiss {
  readonly kind: 'jump' | 'elsewhere';
  readonly joint: JointNumber;
  readonly degrees: number;
}

/** Where on a straight way the arm fails first, and why. */
export interface MoveMiss {
  /** 0 at the first pose, 1 at the last. */
  readonly atFraction: number;
  /** What breaks there. Its excess is small by nature; ask `reach` about the far pose for the whole of it. */
  readonly miss: ReachMiss | JointMiss;
}

/** Largest turn of any joint between two samples, radians. */
export const MAX_JOINT_STEP = 0.5;
/** Largest turn of the flange between two samples, radians. */
const MAX_TURN_STEP = 0.1;
/** Largest difference of a joint between the given start and the pose it should take, radians. */
const START_TOLERANCE = 1e-3;
/** How often a step is halved before it counts as a jump or as the place of a failure. */
const MAX_HALVINGS = 16;

interface Follower {
  readonly arm: Arm;
  readonly path: StraightPath;
  readonly branch: number;
  readonly wristMargin: number;
}

interface Sample {
  readonly fraction: number;
  readonly joints: Joints;
}

/**
 * Follows the straight way from one flange pose to another (base frame of the arm, mm), turning evenly if they
 * are turned differently, and gives the joints (radians) at its samples, both ends included. The arm stays in
 * the branch of `start`, which takes the first pose; joints run on continuously, also past a full turn. Samples
 * are at most `maxStep` mm apart (positive, else a RangeError) and closer where a joint would turn by more than
 * half a radian between two of them. What happens within a step below `maxStep` is not looked at.
 *
 * Fails where the way first leaves reach, the limits, the wrist margin or the branch, found by halving to
 * within 1/65536 of a step.
 */
export function followStraight(
  arm: Arm,
  from: Pose,
  to: Pose,
  start: Joints,
  maxStep: number,
  wristMargin: number = DEFAULT_WRIST_MARGIN,
): Result<readonly Joints[], MoveMiss> {
  if (!(maxStep > 0)) throw new RangeError('the step of a straight move must be positive');
  const atStart = jointsMiss(arm, start, wristMargin);
  if (atStart !== undefined) return fail({ atFraction: 0, miss: atStart });
  const branch = branchOfStart(arm, from, start);
  if (!branch.ok) return fail({ atFraction: 0, miss: branch.error });
  const follower: Follower = { arm, path: straightPath(from, to), branch: branch.value, wristMargin };
  const first = stepTo(follower, start, 0);
  if (!first.ok) return fail({ atFraction: 0, miss: first.error });

  const samples: Sample[] = [{ fraction: 0, joints: first.value }];
  const count = Math.ceil(Math.max(follower.path.length / maxStep, follower.path.turned / MAX_TURN_STEP));
  for (let i = 1; i <= count; i += 1) {
    const failure = advance(follower, samples, i / count, MAX_HALVINGS);
    if (failure !== undefined) return fail(failure);
  }
  return ok(samples.map((sample) => sample.joints));
}

/** Index of the branch whose joints at the pose are those of `start`; the lowest where branches meet. */
function branchOfStart(arm: Arm, from: Pose, start: Joints): Result<number, ReachMiss | JointMiss> {
  let nearest: { readonly index: number; readonly step: JointStep } | undefined;
  for (const { index, joints } of inverseBranches(arm, from)) {
    const step = largestStep(start, turnedNearJoints(joints, start));
    if (nearest === undefined || step.size < nearest.step.size) nearest = { index, step };
    if (step.size <= START_TOLERANCE) return ok(index);
  }
  if (nearest !== undefined) return fail(jointMiss('elsewhere', nearest.step));
  return fail(nearestDistance(arm, from));
}

/**
 * Adds the sample at `fraction`, with as many before it as the joint step asks for, or says what fails. A jump
 * is judged before the limits, since it is what would carry a joint past them.
 */
function advance(
  follower: Follower,
  samples: Sample[],
  fraction: number,
  halvings: number,
): MoveMiss | undefined {
  const last = samples.at(-1)!;
  const next = stepTo(follower, last.joints, fraction);
  if (next.ok) {
    samples.push({ fraction, joints: next.value });
    return undefined;
  }
  if (halvings === 0) return { atFraction: fraction, miss: next.error };
  const middle = (last.fraction + fraction) / 2;
  return (
    advance(follower, samples, middle, halvings - 1) ?? advance(follower, samples, fraction, halvings - 1)
  );
}

/** The joints of the follower's branch at a fraction of the way, by whole turns nearest to the last ones. */
function stepTo(follower: Follower, last: Joints, fraction: number): Result<Joints, ReachMiss | JointMiss> {
  const { arm, path, branch, wristMargin } = follower;
  const solved = inverseBranch(arm, path.at(fraction), branch);
  if (!solved.ok) return fail(solved.error);
  const joints = turnedNearJoints(solved.value.joints, last);
  const step = largestStep(last, joints);
  if (step.size > MAX_JOINT_STEP) return fail(jointMiss('jump', step));
  const miss = jointsMiss(arm, joints, wristMargin);
  return miss === undefined ? ok(joints) : fail(miss);
}

interface JointStep {
  readonly joint: JointNumber;
  /** Radians. */
  readonly size: number;
}

/** The lowest joint of equals. */
function largestStep(from: Joints, to: Joints): JointStep {
  let joint = 0;
  let size = Math.abs(to[0] - from[0]);
  for (let i = 1; i < 6; i += 1) {
    const step = Math.abs(to[i]! - from[i]!);
    if (step <= size) continue;
    size = step;
    joint = i;
  }
  return { joint: (joint + 1) as JointNumber, size };
}

const jointMiss = (kind: JointMiss['kind'], step: JointStep): JointMiss => ({
  kind,
  joint: step.joint,
  degrees: toDegrees(step.size),
});
