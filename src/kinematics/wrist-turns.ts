import type { Rotation } from '../geometry/pose.js';
import type { SixRow } from './arm.js';

/**
 * Puts shape angles 4 to 6 (radians) into a row whose angles 1 to 3 are known: Rz(t4) Ry(t5) Rz(t6) is the turn of the
 * flange as seen from the forearm, which is turned Rz(t1) Ry(t2 + t3); the wrist is plain, `t5` in [0, pi]. t5 and t6 are
 * taken after t4 is undone, so the three reproduce the turn also where the wrist is stretched and t4 is anyone's choice
 * (it is 0 there when the matrix is exact). Written out, as every step of a stroke asks for it.
 */
export function putWristAngles(r: Rotation, angles: SixRow): void {
  const c1 = Math.cos(angles[0]);
  const s1 = Math.sin(angles[0]);
  const bend = angles[1] + angles[2];
  const c = Math.cos(bend);
  const s = Math.sin(bend);
  // The rows of the turn as seen from the forearm, as far as they are asked for.
  const ax = c1 * c;
  const ay = s1 * c;
  const x0 = ax * r[0] + ay * r[3] - s * r[6];
  const x1 = ax * r[1] + ay * r[4] - s * r[7];
  const x2 = ax * r[2] + ay * r[5] - s * r[8];
  const y0 = c1 * r[3] - s1 * r[0];
  const y1 = c1 * r[4] - s1 * r[1];
  const y2 = c1 * r[5] - s1 * r[2];
  const z2 = c1 * s * r[2] + s1 * s * r[5] + c * r[8];
  const fourth = Math.atan2(y2, x2);
  const c4 = Math.cos(fourth);
  const s4 = Math.sin(fourth);
  angles[3] = fourth;
  angles[4] = Math.atan2(c4 * x2 + s4 * y2, z2);
  angles[5] = Math.atan2(c4 * y0 - s4 * x0, c4 * y1 - s4 * x1);
}

/** The other way to the same turn, in its place: axis 4 half round, axis 5 to the other side, axis 6 half round. */
export function flipWrist(angles: SixRow): void {
  angles[3] += Math.PI;
  angles[4] = -angles[4];
  angles[5] += Math.PI;
}
