import type { Vec3 } from './vector.js';
import { cross, dot, length, negate, scale, subtract } from './vector.js';

/** How far apart two convex hulls are, and which way. */
export interface Closest {
  /** mm, to 1e-6 (mostly 1e-9) for parts of metres; 0 when the hulls touch or overlap. */
  readonly distance: number;
  /** A distance that is surely not undercut along `direction`, mm: at most `distance`, by rounding only. */
  readonly bound: number;
  /** Unit vector from the first hull to the second; undefined when the distance is 0. */
  readonly direction: Vec3 | undefined;
}

/** The point of a simplex nearest to the origin and the corners that carry it. */
interface Nearest {
  readonly point: Vec3;
  readonly squared: number;
  readonly corners: readonly Vec3[];
}

/** Nearer than this, mm, is touching. */
const TOUCHING = 1e-9;
/** The search ends when the answer exceeds the true distance by no more than this, mm. */
const ACCURACY = 1e-10;
/** A tetrahedron flatter than this share of its size has no inside. */
const FLAT = 1e-12;
const MOST_ROUNDS = 200;

const nearestAt = (point: Vec3, corners: readonly Vec3[]): Nearest => ({
  point,
  squared: dot(point, point),
  corners,
});

/** Foot of the origin on the line through two points, if it lies between them. */
function onEdge(a: Vec3, b: Vec3): Nearest | undefined {
  const side = subtract(b, a);
  const t = -dot(a, side) / dot(side, side);
  if (!(t > 0 && t < 1)) return undefined;
  return nearestAt([a[0] + side[0] * t, a[1] + side[1] * t, a[2] + side[2] * t], [a, b]);
}

/** Foot of the origin on the plane of a triangle, if it lies inside. */
function onTriangle(a: Vec3, b: Vec3, c: Vec3): Nearest | undefined {
  const normal = cross(subtract(b, a), subtract(c, a));
  const size = dot(normal, normal);
  if (size === 0) return undefined;
  const foot = scale(normal, dot(normal, a) / size);
  const [toA, toB, toC] = [subtract(a, foot), subtract(b, foot), subtract(c, foot)];
  const inside =
    dot(normal, cross(toA, toB)) > 0 && dot(normal, cross(toB, toC)) > 0 && dot(normal, cross(toC, toA)) > 0;
  return inside ? nearestAt(foot, [a, b, c]) : undefined;
}

/** Whether the origin and `apex` lie on the same side of a triangle's plane; never for a flat tetrahedron. */
function sameSide(a: Vec3, b: Vec3, c: Vec3, apex: Vec3): boolean {
  const normal = cross(subtract(b, a), subtract(c, a));
  const toApex = subtract(apex, a);
  const height = dot(normal, toApex);
  if (Math.abs(height) <= FLAT * length(normal) * length(toApex)) return false;
  return height > 0 ? dot(normal, a) <= 0 : dot(normal, a) >= 0;
}

const holdsOrigin = (a: Vec3, b: Vec3, c: Vec3, d: Vec3): boolean =>
  sameSide(a, b, c, d) && sameSide(b, c, d, a) && sameSide(c, d, a, b) && sameSide(d, a, b, c);

/**
 * The nearest point of the simplex made of `old` corners and a new one, given that it needs the new corner: the old
 * ones had their turn. All faces with the new corner are tried, so a badly shaped simplex costs time, not truth.
 */
function withCorner(old: readonly Vec3[], corner: Vec3): Nearest {
  if (old.length === 3 && holdsOrigin(old[0]!, old[1]!, old[2]!, corner)) return nearestAt([0, 0, 0], []);
  let best = nearestAt(corner, [corner]);
  const offer = (found: Nearest | undefined): void => {
    if (found !== undefined && found.squared < best.squared) best = found;
  };
  for (let i = 0; i < old.length; i += 1) {
    offer(onEdge(corner, old[i]!));
    for (let j = i + 1; j < old.length; j += 1) offer(onTriangle(corner, old[i]!, old[j]!));
  }
  return best;
}

/** The point of flat coordinates that goes least far along `direction`. */
function least(coordinates: Float64Array, direction: Vec3): Vec3 {
  let at = 0;
  let lowest = Infinity;
  const [x, y, z] = direction;
  for (let i = 0; i < coordinates.length; i += 3) {
    const along = coordinates[i]! * x + coordinates[i + 1]! * y + coordinates[i + 2]! * z;
    if (along < lowest) {
      lowest = along;
      at = i;
    }
  }
  return [coordinates[at]!, coordinates[at + 1]!, coordinates[at + 2]!];
}

/**
 * Distance between the convex hulls of two sets of points (flat x, y, z), the first moved by `offset`: the algorithm of
 * Gilbert, Johnson and Keerthi (1988) on the Minkowski difference, in double precision. Each round must come nearer to
 * the origin, so it ends also for touching, flat or repeated points. With `enough` it ends early, as soon as it is sure that
 * the hulls are at least `enough[1]` mm apart (then `bound` says so) or less than `enough[0]` (then `distance` does).
 * `guess` is a direction from the first to the second to begin with.
 */
export function closest(
  a: Float64Array,
  b: Float64Array,
  offset: Vec3,
  enough: readonly [low: number, high: number] = [0, Infinity],
  guess: Vec3 = [-1, 0, 0],
): Closest {
  const support = (direction: Vec3): Vec3 => {
    const [from, to] = [least(a, direction), least(b, negate(direction))];
    return [from[0] + offset[0] - to[0], from[1] + offset[1] - to[1], from[2] + offset[2] - to[2]];
  };
  const start = support(negate(guess));
  let nearest = nearestAt(start, [start]);
  let bound = 0;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const distance = Math.sqrt(nearest.squared);
    if (distance <= TOUCHING) return { distance: 0, bound: 0, direction: undefined };
    const corner = support(nearest.point);
    bound = dot(nearest.point, corner) / distance;
    if (distance - bound <= ACCURACY || distance < enough[0] || bound >= enough[1]) break;
    const next = withCorner(nearest.corners, corner);
    if (next.squared >= nearest.squared) break;
    nearest = next;
  }
  const distance = Math.sqrt(nearest.squared);
  return {
    distance,
    bound: Math.min(Math.max(bound, 0), distance),
    direction: scale(nearest.point, -1 / distance),
  };
}
