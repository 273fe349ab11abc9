import type { Vec3 } from '../geometry/vector.js';
import { forearmLength, type Arm } from './arm.js';

/**
 * Proof that an arm cannot bring its wrist centre to within `spread` of a point (base frame, mm). Axis 2 is at most
 * |a1| ahead of and |b| beside axis 1, so it lies on the level disc of that radius at height c1, and the links span at
 * most c2 and the forearm from it. False says nothing: limits, and what is too close, are not looked at.
 */
export function isBeyond(arm: Arm, point: Vec3, spread: number): boolean {
  const level = Math.hypot(point[0], point[1]) - Math.abs(arm.a1) - Math.abs(arm.b);
  const away = Math.hypot(Math.max(0, level), point[2] - arm.c1);
  return away - spread > arm.c2 + forearmLength(arm) + SLACK;
}

/** Covers the last bits of a stretched arm, mm. */
const SLACK = 1e-6;
