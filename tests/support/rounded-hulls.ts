import { IDENTITY, type Pose } from '../../src/geometry/pose.js';
import type { RoundedHull } from '../../src/geometry/rounded-hull.js';
import type { Vec3 } from '../../src/geometry/vector.js';

/** Points grown by a radius; there must be at least one. */
export const roundedHull = (points: readonly Vec3[], radius: number): RoundedHull =>
  placedHull(points, radius, IDENTITY);

/** All points within `radius` of the line from one point to another. */
export const capsule = (from: Vec3, to: Vec3, radius: number): RoundedHull => roundedHull([from, to], radius);

/** The hull of points given in the pose's own frame, in the parent frame. */
export function placedHull(points: readonly Vec3[], radius: number, { at, turn: r }: Pose): RoundedHull {
  const coordinates = new Float64Array(3 * points.length);
  let [lowX, lowY, lowZ] = [Infinity, Infinity, Infinity];
  let [highX, highY, highZ] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 1) {
    const [px, py, pz] = points[i]!;
    const x = at[0] + r[0] * px + r[1] * py + r[2] * pz;
    const y = at[1] + r[3] * px + r[4] * py + r[5] * pz;
    const z = at[2] + r[6] * px + r[7] * py + r[8] * pz;
    coordinates[3 * i] = x;
    coordinates[3 * i + 1] = y;
    coordinates[3 * i + 2] = z;
    lowX = Math.min(lowX, x);
    lowY = Math.min(lowY, y);
    lowZ = Math.min(lowZ, z);
    highX = Math.max(highX, x);
    highY = Math.max(highY, y);
    highZ = Math.max(highZ, z);
  }
  const bounds = {
    low: [lowX - radius, lowY - radius, lowZ - radius] as const,
    high: [highX + radius, highY + radius, highZ + radius] as const,
  };
  return { coordinates, radius, bounds };
}
