import type { Vec3 } from './vector.js';

/** A point of a horizontal plane, mm. */
type Point = readonly [number, number];

const turn = (o: Point, a: Point, b: Point): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);

/** Twice the area, mm2, below which three points count as in line. */
const FLAT = 1e-6;

function chain(points: readonly Point[]): Point[] {
  const hull: Point[] = [];
  for (const point of points) {
    while (hull.length >= 2 && turn(hull.at(-2)!, hull.at(-1)!, point) <= FLAT) hull.pop();
    hull.push(point);
  }
  hull.pop();
  return hull;
}

/**
 * Corners of the convex hull of points seen from above, counter-clockwise, from the least x (then y); z is ignored.
 * Points in line give two corners or fewer. Monotone chain (Andrew 1979).
 */
export function hullFromAbove(points: readonly Vec3[]): readonly Point[] {
  const sorted = points
    .map(([x, y]): Point => [x, y])
    .sort((p, q) => p[0] - q[0] || p[1] - q[1])
    .filter((p, i, all) => i === 0 || p[0] !== all[i - 1]![0] || p[1] !== all[i - 1]![1]);
  if (sorted.length < 3) return sorted;
  return [...chain(sorted), ...chain([...sorted].reverse())];
}

/** Outward unit normals of the hull's edges, level, in the order of its corners; none for fewer than three corners. */
export function edgeNormalsFromAbove(points: readonly Vec3[]): readonly Vec3[] {
  const hull = hullFromAbove(points);
  if (hull.length < 3) return [];
  return hull.map((from, i) => {
    const to = hull[(i + 1) % hull.length]!;
    const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
    return [(to[1] - from[1]) / size, (from[0] - to[0]) / size, 0];
  });
}
