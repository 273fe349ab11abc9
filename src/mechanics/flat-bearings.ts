import { rounded } from '../base/order.js';
import { cross, dot, perpendicular, type Vec3 } from '../geometry/vector.js';
import type { Bearing } from './system.js';

/** Decimals of mm, and of a unit normal, to which planes and corners are told apart. */
const DIGITS = 4;

/**
 * The same bearings with all that lie on one plane between the same two bodies made into one, on the corners of their
 * convex hull. Every force at a point of a patch is a mean of parallel forces at the hull's corners, all of which are
 * corners of patches, so that the same wrenches can be carried; and what rubs where is no longer split by how a face
 * happens to be cut into convex pieces (four for the end of a hollow section). Bearings alone on their plane, and
 * clamped ones, whose clamping acts where it is declared, stay as they are.
 */
export function flatBearings(bearings: readonly Bearing[]): readonly Bearing[] {
  const planes = new Map<string, Bearing[]>();
  bearings.forEach((bearing, i) => {
    const key = bearing.preload > 0 ? `clamped ${i}` : planeKey(bearing);
    planes.set(key, [...(planes.get(key) ?? []), bearing]);
  });
  return [...planes.values()].map((group) => {
    const first = group[0]!;
    if (group.length === 1) return first;
    const points = group.flatMap(({ corners }) => corners);
    return { ...first, corners: hull(points, first.normal) };
  });
}

function planeKey({ a, b, normal, corners, friction }: Bearing): string {
  const offset = corners.length === 0 ? 0 : dot(normal, corners[0]!);
  return [a, b, friction, ...[...normal, offset].map((x) => rounded(x, DIGITS))].join(' ');
}

/** Corners of the convex hull of points on one plane, counter-clockwise against the normal (Andrew 1979). */
function hull(points: readonly Vec3[], normal: Vec3): readonly Vec3[] {
  const x = perpendicular(normal);
  const y = cross(normal, x);
  const flat = points
    .map((at) => ({ at, u: rounded(dot(at, x), DIGITS), v: rounded(dot(at, y), DIGITS) }))
    .sort((p, q) => p.u - q.u || p.v - q.v);
  const side = (list: typeof flat): typeof flat => {
    const kept: typeof flat = [];
    for (const next of list) {
      while (kept.length > 1 && turn(kept.at(-2)!, kept.at(-1)!, next) <= 0) kept.pop();
      kept.push(next);
    }
    return kept.slice(0, -1);
  };
  return [...side(flat), ...side(flat.toReversed())].map(({ at }) => at);
}

interface FlatPoint {
  readonly u: number;
  readonly v: number;
}

/** Positive for a turn to the left on the way from p over q to r. */
const turn = (p: FlatPoint, q: FlatPoint, r: FlatPoint): number =>
  (q.u - p.u) * (r.v - p.v) - (q.v - p.v) * (r.u - p.u);
