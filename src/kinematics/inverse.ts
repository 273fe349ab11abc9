import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import type { Pose, Rotation } from '../geometry/pose.js';
import type { Arm, Joints } from './arm.js';
import { jointValues } from './arm.js';
import { turnedIntoLimits } from './limits.js';
import type { ArmAngles, DistanceMiss, Shoulder } from './wrist-centre.js';
import { armAngles, wristCentre } from './wrist-centre.js';
import { flipped, wristAngles, type WristAngles } from './wrist-turns.js';

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
  const branches: Branch[] = [];
  for (let index = 0; index < BRANCH_NAMES.length; index += 4) {
    const angles = armAngles(arm, centre, BRANCH_NAMES[index]!.shoulder);
    if (!angles.ok) continue;
    for (let elbow = index; elbow < index + 4; elbow += 2) {
      const plain = wristOf(flange, angles.value, BRANCH_NAMES[elbow]!.elbow);
      branches.push(branchOf(arm, angles.value, plain, elbow), branchOf(arm, angles.value, plain, elbow + 1));
    }
  }
  return branches;
}

/** The one branch with this index (0 to 7), or by how many mm the pose is out of its reach. */
export function inverseBranch(arm: Arm, flange: Pose, index: number): Result<Branch, DistanceMiss> {
  const angles = armAngles(arm, wristCentre(arm, flange), BRANCH_NAMES[index]!.shoulder);
  if (!angles.ok) return fail(angles.error);
  return ok(branchOf(arm, angles.value, wristOf(flange, angles.value, BRANCH_NAMES[index]!.elbow), index));
}

/** Axes 4 to 6 for one bend of the elbow, the wrist plain. */
function wristOf(flange: Pose, angles: ArmAngles, elbow: BranchName['elbow']): WristAngles {
  const [second, third] = angles[elbow];
  return wristAngles(seenFromForearm(angles.first, second + third, flange.turn));
}

/** A turn as seen from the forearm, which is turned Rz(first) Ry(bend). Written out, as every step of a stroke asks for it. */
function seenFromForearm(first: number, bend: number, r: Rotation): Rotation {
  const c1 = Math.cos(first);
  const s1 = Math.sin(first);
  const c = Math.cos(bend);
  const s = Math.sin(bend);
  const [ax, ay] = [c1 * c, s1 * c];
  const [zx, zy] = [c1 * s, s1 * s];
  return [
    ax * r[0] + ay * r[3] - s * r[6],
    ax * r[1] + ay * r[4] - s * r[7],
    ax * r[2] + ay * r[5] - s * r[8],
    c1 * r[3] - s1 * r[0],
    c1 * r[4] - s1 * r[1],
    c1 * r[5] - s1 * r[2],
    zx * r[0] + zy * r[3] + c * r[6],
    zx * r[1] + zy * r[4] + c * r[7],
    zx * r[2] + zy * r[5] + c * r[8],
  ];
}

function branchOf(arm: Arm, angles: ArmAngles, plain: WristAngles, index: number): Branch {
  const { shoulder, elbow, wrist } = BRANCH_NAMES[index]!;
  const [second, third] = angles[elbow];
  const [fourth, fifth, sixth] = wrist === 'plain' ? plain : flipped(plain);
  const joints = jointValues(arm, [angles.first, second, third, fourth, fifth, sixth]);
  return { shoulder, elbow, wrist, index, joints: turnedIntoLimits(arm, joints) };
}
