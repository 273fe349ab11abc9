import { boundsDistance, boundsOf, type Bounds } from './bounds.js';
import { closest } from './closest.js';
import type { ConvexPiece } from './convex.js';
import { flatten } from './convex.js';
import type { Pose } from './pose.js';
import { place } from './pose.js';
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
export function roundedHull(points: readonly Vec3[], radius: number): RoundedHull {
  const { low, high } = boundsOf(points);
  return {
    coordinates: flatten(points),
    radius,
    bounds: {
      low: [low[0] - radius, low[1] - radius, low[2] - radius],
      high: [high[0] + radius, high[1] + radius, high[2] + radius],
    },
  };
}

/** All points within `radius` of the line from one point to another. */
export const capsule = (from: Vec3, to: Vec3, radius: number): RoundedHull => roundedHull([from, to], radius);

export const hullOfPiece = ({ coordinates, bounds }: ConvexPiece): RoundedHull => ({
  coordinates,
  radius: 0,
  bounds,
});

/** The hull, given in the pose's own frame by its points, in the parent frame. */
export const placedHull = (points: readonly Vec3[], radius: number, pose: Pose): RoundedHull =>
  roundedHull(
    points.map((point) => place(pose, point)),
    radius,
  );

/** Distance between two rounded hulls, mm: 0 when they touch or overlap, never more than it is. */
export const hullDistance = (a: RoundedHull, b: RoundedHull): number =>
  Math.max(0, closest(a.coordinates, b.coordinates, ORIGIN).bound - a.radius - b.radius);

/**
 * Whether two rounded hulls are at least `high` mm apart, less than `low` (not more than `high`, both positive), or in
 * between. Their boxes answer where they can.
 */
export function apartness(
  a: RoundedHull,
  b: RoundedHull,
  low: number,
  high: number,
): 'apart' | 'near' | 'between' {
  if (boundsDistance(a.bounds, b.bounds) >= high) return 'apart';
  const grown = a.radius + b.radius;
  const { bound } = closest(a.coordinates, b.coordinates, ORIGIN, [low + grown, high + grown]);
  return bound - grown >= high ? 'apart' : bound - grown < low ? 'near' : 'between';
}
