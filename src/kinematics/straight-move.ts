import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, JointNumber, Joints, SixRow } from './arm.js';
import { toDegrees } from './arm.js';
import { branchMiss, branchNear, inverseBranches, putBranch } from './inverse.js';
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

/** Room for the joints of the place that is looked at. */
const SOLVED: SixRow = [0, 0, 0, 0, 0, 0];

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

  const samples: Joints[] = [first.value];
  const count = Math.ceil(Math.max(follower.path.length / maxStep, follower.path.turned / MAX_TURN_STEP));
  for (let i = 1; i <= count; i += 1) {
    const failure = advance(follower, samples, (i - 1) / count, i / count, MAX_HALVINGS);
    if (failure !== undefined) return fail(failure);
  }
  return ok(samples);
}

/** Index of the branch whose joints at the pose are those of `start`, the lowest where branches meet; or how far off the nearest is. */
function branchOfStart(arm: Arm, from: Pose, start: Joints): Result<number, ReachMiss | JointMiss> {
  const index = branchNear(arm, from, start, START_TOLERANCE);
  if (index !== undefined) return ok(index);
  let nearest: Joints | undefined;
  for (const { joints } of inverseBranches(arm, from)) {
    const turned = turnedNearJoints(joints, start);
    if (nearest === undefined || largestStep(start, turned) < largestStep(start, nearest)) nearest = turned;
  }
  return fail(nearest ? jointMiss('elsewhere', start, nearest) : nearestDistance(arm, from));
}

/**
 * Adds the sample at the fraction `to`, the last one being at `from`, with as many before it as the joint step asks for, or
 * says what fails. A jump is judged before the limits, since it is what would carry a joint past them.
 */
function advance(
  follower: Follower,
  samples: Joints[],
  from: number,
  to: number,
  halvings: number,
): MoveMiss | undefined {
  const next = stepTo(follower, samples.at(-1)!, to);
  if (next.ok) {
    samples.push(next.value);
    return undefined;
  }
  if (halvings === 0) return { atFraction: to, miss: next.error };
  const middle = (from + to) / 2;
  return (
    advance(follower, samples, from, middle, halvings - 1) ??
    advance(follower, samples, middle, to, halvings - 1)
  );
}

/** The joints of the follower's branch at a fraction of the way, by whole turns nearest to the last ones. */
function stepTo(follower: Follower, last: Joints, fraction: number): Result<Joints, ReachMiss | JointMiss> {
  const { arm, path, branch, wristMargin } = follower;
  const flange = path.at(fraction);
  if (!putBranch(arm, flange, branch, SOLVED)) return fail(branchMiss(arm, flange, branch));
  const joints = turnedNearJoints(SOLVED, last);
  if (largestStep(last, joints) > MAX_JOINT_STEP) return fail(jointMiss('jump', last, joints));
  const miss = jointsMiss(arm, joints, wristMargin);
  return miss === undefined ? ok(joints) : fail(miss);
}

/** By how much the joint turns that turns most, radians. */
function largestStep(from: Joints, to: Joints): number {
  let size = 0;
  for (let i = 0; i < 6; i += 1) size = Math.max(size, Math.abs(to[i]! - from[i]!));
  return size;
}

/** Of the joint that turns most, the lowest of equals. */
function jointMiss(kind: JointMiss['kind'], from: Joints, to: Joints): JointMiss {
  const size = largestStep(from, to);
  const place = from.findIndex((value, i) => Math.abs(to[i]! - value) === size);
  return { kind, joint: (place + 1) as JointNumber, degrees: toDegrees(size) };
}
