import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose } from '../geometry/pose.js';
import { multiply, transpose } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import { jointValues } from './arm.js';
import { turnY, turnZ } from './axis-turns.js';
import { turnedIntoLimits } from './limits.js';
import type { ArmAngles, DistanceMiss, Shoulder } from './wrist-centre.js';
import { armAngles, wristCentre } from './wrist-centre.js';
import { flipped, wristAngles } from './wrist-turns.js';

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

/**
 * Every way the shape of the arm allows it to take the flange pose (base frame of the arm, mm), limits aside:
 * none, four or eight branches in the order of their index. On the edge of reach, with the wrist stretched or with the wrist
 * centre on axis 1, branches meet and some are equal. Closed form of Brandstötter, Angerer and Hofbaur (2014).
 */
export function inverseBranches(arm: Arm, flange: Pose): readonly Branch[] {
  const centre = wristCentre(arm, flange);
  const solved = { front: armAngles(arm, centre, 'front'), back: armAngles(arm, centre, 'back') };
  return BRANCH_NAMES.flatMap((name, index) => {
    const angles = solved[name.shoulder];
    return angles.ok ? [branchOf(arm, flange, angles.value, index)] : [];
  });
}

/** The one branch with this index (0 to 7), or by how many mm the pose is out of its reach. */
export function inverseBranch(arm: Arm, flange: Pose, index: number): Result<Branch, DistanceMiss> {
  const angles = armAngles(arm, wristCentre(arm, flange), BRANCH_NAMES[index]!.shoulder);
  return angles.ok ? ok(branchOf(arm, flange, angles.value, index)) : fail(angles.error);
}

function branchOf(arm: Arm, flange: Pose, angles: ArmAngles, index: number): Branch {
  const name = BRANCH_NAMES[index]!;
  const [second, third] = angles[name.elbow];
  const forearm = multiply(turnZ(angles.first), turnY(second + third));
  const plain = wristAngles(multiply(transpose(forearm), flange.turn));
  const wrist = name.wrist === 'plain' ? plain : flipped(plain);
  const joints = turnedIntoLimits(arm, jointValues(arm, [angles.first, second, third, ...wrist]));
  return { ...name, index, joints };
}
