import type { Arm, Joints } from './arm.js';

/**
 * Seconds to cover `distance` from rest to rest with a trapezoidal speed profile, or a triangular one when the
 * way is too short to get up to speed: d/v + v/a for d >= v^2/a, else 2 sqrt(d/a) (elementary kinematics).
 * Distance, speed and acceleration share one length or angle unit; the last two are positive.
 */
export function profileTime(distance: number, speed: number, acceleration: number): number {
  const way = Math.abs(distance);
  return way >= (speed * speed) / acceleration
    ? way / speed + speed / acceleration
    : 2 * Math.sqrt(way / acceleration);
}

/** Seconds for a move of all joints at once (radians): the time of the slowest joint. */
export const travelTime = (arm: Arm, from: Joints, to: Joints): number =>
  Math.max(...from.map((start, i) => profileTime(to[i]! - start, arm.speeds[i]!, arm.accelerations[i]!)));

/** Seconds for a straight move of the flange: mm, mm/s and mm/s2. */
export const straightTime = (distance: number, speed: number, acceleration: number): number =>
  profileTime(distance, speed, acceleration);
