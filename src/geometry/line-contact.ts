import type { Polygon } from './polygon.js';
import { polygonEdges } from './polygon.js';
import type { Vec3 } from './vector.js';
import { along, cross, dot, length, subtract, unit } from './vector.js';

/** The ends of a line of contact on a round face. */
type Line = readonly [Vec3, Vec3];

/** Sine of the angle between two lines below which they are one line. */
const PARALLEL = 1e-6;

/** The piece of a line that lies over or under a convex polygon, in the polygon's plane; empty when there is none. */
function within(polygon: Polygon, normal: Vec3, [from, to]: Line): readonly Vec3[] {
  const level = dot(normal, polygon[0]!);
  const foot = along(from, normal, level - dot(normal, from));
  const way = unit(subtract(to, from));
  let [low, high] = [-Infinity, Infinity];
  for (const edge of polygonEdges(polygon, normal)) {
    const room = dot(edge.outward, subtract(edge.from, foot));
    const speed = dot(edge.outward, way);
    if (Math.abs(speed) < PARALLEL) {
      if (room < 0) return [];
    } else if (speed > 0) high = Math.min(high, room / speed);
    else low = Math.max(low, room / speed);
  }
  return low < high ? [along(foot, way, low), along(foot, way, high)] : [];
}

/** Where two lines that are not parallel cross, seen along the normal of the plane that the first lies in. */
function crossing(normal: Vec3, [from, to]: Line, other: Line): Vec3 {
  const way = subtract(to, from);
  const side = cross(subtract(other[1], other[0]), normal);
  return along(from, way, dot(subtract(other[0], from), side) / dot(way, side));
}

/**
 * What is left of a flat contact when one or both of its faces are round (`PlanarFace.curved` of each such face): the
 * whole polygon when none is; the piece of the middle line over it, two points, when one is or both along one line; the
 * point where two lines cross. Empty when the line passes the polygon by.
 */
export function onLines(polygon: Polygon, normal: Vec3, lines: readonly Line[]): readonly Vec3[] {
  const [first, second] = lines;
  if (first === undefined || polygon.length < 3) return polygon;
  const piece = within(polygon, normal, first);
  if (second === undefined || piece.length < 2) return piece;
  const ways = [first, second].map(([from, to]) => unit(subtract(to, from)));
  if (length(cross(ways[0]!, ways[1]!)) < PARALLEL) return piece;
  const other = within(polygon, normal, second);
  return other.length < 2 ? [] : [crossing(normal, [piece[0]!, piece[1]!], second)];
}
