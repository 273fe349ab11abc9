import type { Rotation } from '../geometry/pose.js';

/** Shape angles of axes 4, 5 and 6, radians. */
export type WristAngles = readonly [fourth: number, fifth: number, sixth: number];

/**
 * Axes 4 to 6 for the turn of the flange as seen from the forearm, Rz(t4) Ry(t5) Rz(t6), with `t5` in [0, pi].
 * t5 and t6 are taken after t4 is undone, so the three reproduce the turn also where the wrist is stretched
 * and t4 is anyone's choice (it is 0 there when the matrix is exact).
 */
export function wristAngles(r: Rotation): WristAngles {
  const fourth = Math.atan2(r[5], r[2]);
  const c = Math.cos(fourth);
  const s = Math.sin(fourth);
  const fifth = Math.atan2(c * r[2] + s * r[5], r[8]);
  const sixth = Math.atan2(c * r[3] - s * r[0], c * r[4] - s * r[1]);
  return [fourth, fifth, sixth];
}

/** The other way to the same turn: axis 4 half round, axis 5 to the other side, axis 6 half round. */
export const flipped = ([fourth, fifth, sixth]: WristAngles): WristAngles => [
  fourth + Math.PI,
  -fifth,
  sixth + Math.PI,
];
