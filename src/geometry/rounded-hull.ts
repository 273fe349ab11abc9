import { boundsDistance, type Bounds } from './bounds.js';
import { closest } from './closest.js';
import type { ConvexPiece } from './convex.js';
import { ORIGIN, type Vec3 } from './vector.js';

/** The convex hull of some points, grown by a radius: a ball, a capsule, or any convex piece. Millimetres. */
export interface RoundedHull {
  /** x, y, z of each point in turn. */
  readonly coordinates: Float64Array;
  readonly radius: number;
  /** Box around the points, grown. */
  readonly bounds: Bounds;
}

export const hullOfPiece = ({ coordinates, bounds }: ConvexPiece): RoundedHull => ({
  coordinates,
  radius: 0,
  bounds,
});

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
  const found = closest(a.coordinates, b.coordinates, ORIGIN, low + grown, high + grown, direction);
  const apart = found.bound - grown;
  return { kind: apart >= high ? 'apart' : apart < low ? 'near' : 'between', direction: found.direction };
}

/** How far the second of two sets of points lies beyond the first along a unit direction, mm; negative when it does not. */
function gapAlong(a: Float64Array, b: Float64Array, { 0: x, 1: y, 2: z }: Vec3): number {
  let far = -Infinity;
  for (let i = 0; i < a.length; i += 3) far = Math.max(far, a[i]! * x + a[i + 1]! * y + a[i + 2]! * z);
  let near = Infinity;
  for (let i = 0; i < b.length; i += 3) near = Math.min(near, b[i]! * x + b[i + 1]! * y + b[i + 2]! * z);
  return near - far;
}
