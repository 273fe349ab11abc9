import type { Inertia } from './mass.js';
import { axisX, axisY, rotate, type Rotation } from './pose.js';
import { dot, type Vec3 } from './vector.js';

/** Greatest eigenvalue of a symmetric 3 x 3 matrix, row-major, by the trigonometric closed form (Smith 1961). */
export function largestPrincipal(m: Inertia): number {
  const mean = (m[0] + m[4] + m[8]) / 3;
  const off = m[1] ** 2 + m[2] ** 2 + m[5] ** 2;
  const spread = Math.sqrt(((m[0] - mean) ** 2 + (m[4] - mean) ** 2 + (m[8] - mean) ** 2 + 2 * off) / 6);
  if (spread === 0) return mean;
  const [a, b, c] = [(m[0] - mean) / spread, (m[4] - mean) / spread, (m[8] - mean) / spread];
  const [d, e, f] = [m[1] / spread, m[2] / spread, m[5] / spread];
  const half = (a * (b * c - f * f) - d * (d * c - f * e) + e * (d * f - b * e)) / 2;
  return mean + 2 * spread * Math.cos(Math.acos(Math.min(1, Math.max(-1, half))) / 3);
}

/** What a symmetric matrix gives about a unit direction: d' M d. */
export const about = (m: Inertia, direction: Vec3): number => dot(direction, rotate(m, direction));

/** The greatest value about any direction square to the z axis of a turn, both in the frame of the matrix. */
export function largestAcross(m: Inertia, turn: Rotation): number {
  const [x, y] = [axisX(turn), axisY(turn)];
  const [xx, yy, xy] = [about(m, x), about(m, y), dot(x, rotate(m, y))];
  return (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
}
