import { boundsDistance, type Bounds } from './bounds.js';
import { closest } from './closest.js';
import type { ConvexPiece } from './convex.js';
import { IDENTITY, type Pose } from './pose.js';
import { ORIGIN, type Vec3 } from './vector.js';

/** The convex hull of some points, grown by a radius: a ball, a capsule, or any convex piece. Millimetres. */
export interface RoundedHull {
  /** x, y, z of each point in turn. */
  readonly coordinates: Float64Array;
  readonly radius: number;
  /** Box around the points, grown. */
  readonly bounds: Bounds;
}

/** Points grown by a radius; there must be at least one. */
export const roundedHull = (points: readonly Vec3[], radius: number): RoundedHull =>
  placedHull(points, radius, IDENTITY);

/** All points within `radius` of the line from one point to another. */
export const capsule = (from: Vec3, to: Vec3, radius: number): RoundedHull => roundedHull([from, to], radius);

export const hullOfPiece = ({ coordinates, bounds }: ConvexPiece): RoundedHull => ({
  coordinates,
  radius: 0,
  bounds,
});

/** The hull of points given in the pose's own frame, in the parent frame. In plain loops: arms ask for it often. */
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

/** Distance between two rounded hulls, mm: 0 when they touch or overlap, never more than it is. */
export const hullDistance = (a: RoundedHull, b: RoundedHull): number =>
  Math.max(0, closest(a.coordinates, b.coordinates, ORIGIN).bound - a.radius - b.radius);

/** How far two things are apart as far as it was asked, and a unit direction from the first to the second that shows it. */
export interface Apartness {
  readonly kind: 'apart' | 'near' | 'between';
  readonly direction: Vec3 | undefined;
}

/**
 * Whether two rounded hulls are at least `high` mm apart, less than `low` (not more than `high`, both positive), or in
 * between. Their boxes answer where they can, or else a `direction` along which they were seen apart nearby; what that
 * shows to be well over `low` may count as in between, though it is apart.
 */
export function apartness(
  a: RoundedHull,
  b: RoundedHull,
  low: number,
  high: number,
  direction?: Vec3,
): Apartness {
  if (boundsDistance(a.bounds, b.bounds) >= high) return { kind: 'apart', direction };
  const grown = a.radius + b.radius;
  const seen = direction ? gapAlong(a.coordinates, b.coordinates, direction) - grown : -Infinity;
  if (seen >= high) return { kind: 'apart', direction };
  if (seen >= (low + high) / 2) return { kind: 'between', direction };
  const found = closest(a.coordinates, b.coordinates, ORIGIN, [low + grown, high + grown], direction);
  const apart = found.bound - grown;
  return { kind: apart >= high ? 'apart' : apart < low ? 'near' : 'between', direction: found.direction };
}

/** How far the second of two sets of points lies beyond the first along a unit direction, mm; negative when it does not. */
function gapAlong(a: Float64Array, b: Float64Array, [x, y, z]: Vec3): number {
  let far = -Infinity;
  for (let i = 0; i < a.length; i += 3) far = Math.max(far, a[i]! * x + a[i + 1]! * y + a[i + 2]! * z);
  let near = Infinity;
  for (let i = 0; i < b.length; i += 3) near = Math.min(near, b[i]! * x + b[i + 1]! * y + b[i + 2]! * z);
  return near - far;
}
