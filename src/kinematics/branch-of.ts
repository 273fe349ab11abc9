import { rotate, transpose } from '../geometry/pose.js';
import type { Arm, Joints, Six } from './arm.js';
import { shapeAngles, sixOf } from './arm.js';
import { turnZ } from './axis-turns.js';
import { linkPoints } from './forward.js';
import type { BranchName } from './inverse.js';

const TURN = 2 * Math.PI;

/** Bend of the elbow or of the wrist that counts as none, radians: there the two branches are one. */
const NO_BEND = 1e-9;

/**
 * In which of the eight branches an arm stands with some joint values (radians), by the signs that tell them apart:
 * `front` where the wrist centre is ahead of axis 1, `up` where the elbow bends upward for an arm that reaches that
 * way, `plain` where shape angle 5 is positive. Where two branches meet, the first of them.
 */
export function branchOf(arm: Arm, joints: Joints): BranchName {
  const [first, , third, , fifth] = shapeAngles(arm, joints);
  const ahead = rotate(transpose(turnZ(first)), linkPoints(arm, joints).wrist)[0];
  const bend = Math.sin(third + Math.atan2(arm.a2, arm.c3));
  const facing = ahead >= -NO_BEND ? 1 : -1;
  return {
    shoulder: facing > 0 ? 'front' : 'back',
    elbow: facing * bend >= -NO_BEND ? 'up' : 'down',
    wrist: Math.sin(fifth) >= -NO_BEND ? 'plain' : 'flipped',
  };
}

/** Whole turns by which each joint is beyond the turn from -180 up to 180 degrees. */
export const wholeTurns = (joints: Joints): Six<number> => sixOf((i) => Math.round(joints[i]! / TURN) + 0);
