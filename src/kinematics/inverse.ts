import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints, SixRow } from './arm.js';
import { jointValue } from './arm.js';
import { turnedIntoLimit, turnedNear } from './limits.js';
import type { ArmAngles, DistanceMiss, Shoulder } from './wrist-centre.js';
import { distanceMiss, putArmAngles } from './wrist-centre.js';
import { flipWrist, putWristAngles } from './wrist-turns.js';

/** One of the eight ways an arm may take a pose. */
export interface BranchName {
  readonly shoulder: Shoulder;
  readonly elbow: 'up' | 'down';
  /** Plain: the shape angle of axis 5 is positive. Flipped: negative. */
  readonly wrist: 'plain' | 'flipped';
}

/** A branch and the joint values (radians) by which it takes a pose. */
export interface Branch extends BranchName {
  /** 0 to 7: 4 for back, plus 2 for down, plus 1 for flipped. */
  readonly index: number;
  /** By whole turns nearest to the middle of the limits; inside them when any number of turns is. */
  readonly joints: Joints;
}

/** The eight branches in the order of their index. */
export const BRANCH_NAMES: readonly BranchName[] = (['front', 'back'] as const).flatMap((shoulder) =>
  (['up', 'down'] as const).flatMap((elbow) =>
    (['plain', 'flipped'] as const).map((wrist) => ({ shoulder, elbow, wrist })),
  ),
);

/** Room for the pose that is looked at: both bends of the elbow, the shape angles of one branch, and its joints. */
const BENDS: ArmAngles = [0, 0, 0, 0, 0];
const ANGLES: SixRow = [0, 0, 0, 0, 0, 0];
const JOINTS: SixRow = [0, 0, 0, 0, 0, 0];

/**
 * Shows every way the shape of the arm allows it to take the flange pose (base frame of the arm, mm), limits aside:
 * none, four or eight branches in the order of their index. On the edge of reach, with the wrist stretched or with the wrist
 * centre on axis 1, branches meet and some are equal. Closed form of Brandstötter, Angerer and Hofbaur (2014).
 * The joints are good until the next are shown, and no other pose may be asked for meanwhile.
 */
export function eachBranch(arm: Arm, flange: Pose, show: (index: number, joints: Joints) => void): void {
  someBend(arm, flange, (index) => {
    putWristAngles(flange.turn, ANGLES);
    putJoints(arm, 0, 6, JOINTS);
    show(index, JOINTS);
    flipWrist(ANGLES);
    putJoints(arm, 3, 6, JOINTS);
    show(index + 1, JOINTS);
    return false;
  });
}

/** The same as a list. */
export function inverseBranches(arm: Arm, flange: Pose): readonly Branch[] {
  const branches: Branch[] = [];
  eachBranch(arm, flange, (index, joints) => branches.push(branchOf(index, joints)));
  return branches;
}

/** The one branch with this index (0 to 7), or by how many mm the pose is out of its reach. */
export function inverseBranch(arm: Arm, flange: Pose, index: number): Result<Branch, DistanceMiss> {
  if (putBranch(arm, flange, index, JOINTS)) return ok(branchOf(index, JOINTS));
  return fail(branchMiss(arm, flange, index));
}

/** By how many mm a pose is out of reach of a branch, which it must be. */
export const branchMiss = (arm: Arm, flange: Pose, index: number): DistanceMiss =>
  distanceMiss(arm, flange, BRANCH_NAMES[index]!.shoulder)!;

function branchOf(index: number, [a, b, c, d, e, f]: Joints): Branch {
  const { shoulder, elbow, wrist } = BRANCH_NAMES[index]!;
  return { shoulder, elbow, wrist, index, joints: [a, b, c, d, e, f] };
}

/** Puts the joints of one branch into a row; false where the pose is out of its reach. */
export function putBranch(arm: Arm, flange: Pose, index: number, joints: SixRow): boolean {
  if (!putArmAngles(arm, flange, BRANCH_NAMES[index]!.shoulder, BENDS)) return false;
  bendElbow(index);
  putWristAngles(flange.turn, ANGLES);
  if (index % 2 === 1) flipWrist(ANGLES);
  putJoints(arm, 0, 6, joints);
  return true;
}

/**
 * The lowest branch that takes the flange pose with joints that are nowhere farther than `most` from the given ones, by
 * the nearest whole turns. No wrist is worked out where the joints before it are farther off already.
 */
export function branchNear(arm: Arm, flange: Pose, joints: Joints, most: number): number | undefined {
  const isNear = (from: number, to: number): boolean => {
    putJoints(arm, from, to, JOINTS);
    for (let i = from; i < to; i += 1)
      if (Math.abs(turnedNear(JOINTS[i]!, joints[i]!) - joints[i]!) > most) return false;
    return true;
  };
  let near: number | undefined;
  someBend(arm, flange, (index) => {
    if (!isNear(0, 3)) return false;
    putWristAngles(flange.turn, ANGLES);
    if (isNear(3, 6)) near = index;
    else {
      flipWrist(ANGLES);
      if (isNear(3, 6)) near = index + 1;
    }
    return near !== undefined;
  });
  return near;
}

/** Whether the test says so of a way to bend shoulder and elbow, the angles of axes 1 to 3 taken; by their plain branches. */
function someBend(arm: Arm, flange: Pose, test: (index: number) => boolean): boolean {
  for (let shoulder = 0; shoulder < BRANCH_NAMES.length; shoulder += 4) {
    if (!putArmAngles(arm, flange, BRANCH_NAMES[shoulder]!.shoulder, BENDS)) continue;
    for (let index = shoulder; index < shoulder + 4; index += 2) {
      bendElbow(index);
      if (test(index)) return true;
    }
  }
  return false;
}

/** Takes the shape angles of axes 1 to 3 for the elbow of a branch. */
function bendElbow(index: number): void {
  const isUp = BRANCH_NAMES[index]!.elbow === 'up';
  ANGLES[0] = BENDS[0];
  ANGLES[1] = isUp ? BENDS[1] : BENDS[3];
  ANGLES[2] = isUp ? BENDS[2] : BENDS[4];
}

/** Puts the joints from one place up to another into a row, by whole turns in the limits where any are. */
function putJoints(arm: Arm, from: number, to: number, joints: SixRow): void {
  for (let i = from; i < to; i += 1) joints[i] = turnedIntoLimit(arm, i, jointValue(arm, ANGLES, i));
}
