import type { Arm, Joints } from '../kinematics/arm.js';
import { toDegrees } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { BRANCH_NAMES, inverseBranch } from '../kinematics/inverse.js';
import { turnedNearJoints, wristSine } from '../kinematics/limits.js';
import type { Step } from '../model/plan.js';
import { shown } from './rule.js';

type Branch = Extract<Step, { do: 'move' }>['branch'];

/** How far a joint may be off the closed form, degrees: joints are rounded, and near a stretched elbow that counts. */
const TOLERANCE = 0.05;
/** Below this bend of the wrist axes 4 and 6 are anyone's choice. */
const STRETCHED = 1e-3;

/**
 * What is wrong with the branch stated for some joints (radians), in words: the closed form must give them back for
 * where the flange is in that branch, and the whole turns must be theirs.
 */
export function branchFinding(arm: Arm, joints: Joints, stated: Branch): string | undefined {
  const { shoulder, elbow, wrist } = stated;
  const index = BRANCH_NAMES.findIndex(
    (name) => name.shoulder === shoulder && name.elbow === elbow && name.wrist === wrist,
  );
  const found = inverseBranch(arm, forward(arm, joints), index);
  const name = `${shoulder}, ${elbow}, ${wrist}`;
  if (!found.ok) return `there is no way to its pose in the branch ${name}`;
  const near = turnedNearJoints(found.value.joints, joints);
  const judged = wristSine(arm, joints) < STRETCHED ? 3 : 6;
  const off = joints.slice(0, judged).map((value, i) => Math.abs(toDegrees(value - near[i]!)));
  const worst = Math.max(...off);
  if (worst > TOLERANCE)
    return `axis ${off.indexOf(worst) + 1} is ${shown(worst)} degrees off the branch ${name}`;
  const axis = joints.findIndex((value, i) => !isTurn(toDegrees(value), stated.turns?.[i] ?? 0));
  return axis < 0
    ? undefined
    : `axis ${axis + 1} at ${shown(toDegrees(joints[axis]!))} degrees is not ${stated.turns?.[axis] ?? 0} whole turns on`;
}

/** Whether an angle is within half a turn of some whole turns; rounding aside. */
const isTurn = (degrees: number, turns: number): boolean => Math.abs(degrees - 360 * turns) <= 180 + 1e-3;
