import { snap } from '../base/order.js';
import type { Arm, JointNumber, Joints } from './arm.js';
import { shapeAngles, sixOf, toDegrees } from './arm.js';

/** A joint would have to go past its limit. All angles are in degrees, as joint values. */
export interface LimitMiss {
  readonly kind: 'limit';
  readonly joint: JointNumber;
  /** How far past the limit. */
  readonly degrees: number;
  readonly value: number;
  readonly limit: number;
}

/** The wrist is too nearly stretched, where axes 4 and 6 line up and turn without bound. Degrees. */
export interface WristMiss {
  readonly kind: 'wrist-singular';
  /** Angle between the axes 4 and 6, as lines. */
  readonly degrees: number;
  /** Least angle asked for. */
  readonly needed: number;
}

/** Joint values are compared after rounding to this grain, radians. */
export const ANGLE_GRAIN = 1e-9;

const TURN = 2 * Math.PI;

/** `value` plus whole turns, so that it comes within half a turn of `target`; exactly opposite, above it. */
export function turnedNear(value: number, target: number): number {
  const offset = value - target;
  const turned = offset - TURN * Math.round(offset / TURN);
  return target + (turned < -Math.PI + ANGLE_GRAIN ? turned + TURN : turned);
}

/**
 * Each joint by whole turns as near as can be to the middle of its limits. When any number of turns brings a
 * joint inside its limits this does, with the largest margin; otherwise it gives the smallest excess.
 */
export const turnedIntoLimits = (arm: Arm, joints: Joints): Joints =>
  sixOf((i) => turnedNear(joints[i]!, (arm.limits[i]![0] + arm.limits[i]![1]) / 2));

/** Each joint by whole turns as near as can be to the same joint of `target`, whatever the limits. */
export const turnedNearJoints = (joints: Joints, target: Joints): Joints =>
  sixOf((i) => turnedNear(joints[i]!, target[i]!));

/** The smallest distance of a joint to its nearer limit, radians, negative outside; a multiple of the grain. */
export function limitMargin(arm: Arm, joints: Joints): number {
  const margins = joints.map((value, i) => Math.min(value - arm.limits[i]![0], arm.limits[i]![1] - value));
  return snap(Math.min(...margins), ANGLE_GRAIN);
}

/** The joint that is furthest past a limit (the lowest number of equals), or undefined when all are inside. */
export function limitMiss(arm: Arm, joints: Joints): LimitMiss | undefined {
  let worst: LimitMiss | undefined;
  let worstExcess = 0;
  joints.forEach((value, i) => {
    const [low, high] = arm.limits[i]!;
    const excess = snap(Math.max(low - value, value - high), ANGLE_GRAIN);
    if (excess <= worstExcess) return;
    worstExcess = excess;
    worst = {
      kind: 'limit',
      joint: (i + 1) as JointNumber,
      degrees: toDegrees(excess),
      value: toDegrees(value),
      limit: toDegrees(value < low ? low : high),
    };
  });
  return worst;
}

/** |sin t5|: 0 when the wrist is stretched or folded onto itself, 1 when it is square. */
export const wristSine = (arm: Arm, joints: Joints): number =>
  Math.abs(Math.sin(shapeAngles(arm, joints)[4]));

/** The miss of a wrist whose |sin t5| is below `wristMargin`, or undefined when it is bent enough. */
export function wristMiss(arm: Arm, joints: Joints, wristMargin: number): WristMiss | undefined {
  const sine = wristSine(arm, joints);
  if (snap(sine - wristMargin, ANGLE_GRAIN) >= 0) return undefined;
  return {
    kind: 'wrist-singular',
    degrees: toDegrees(Math.asin(Math.min(1, sine))),
    needed: toDegrees(Math.asin(Math.min(1, wristMargin))),
  };
}
