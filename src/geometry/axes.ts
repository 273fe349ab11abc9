import type { ConvexPiece } from './convex.js';

/** What a piece covers along an axis; written again and again by the inner loops. */
export interface Span {
  low: number;
  high: number;
}

/** Depths are compared with a grain of this many millimetres, so that a last bit never decides. */
export const DEPTH_GRAIN = 1e-6;

/** Square of the sine of the angle below which two edges count as parallel and give no axis. */
const PARALLEL_SQUARED = 1e-12;

/** The least and greatest `axis . vertex` of flat coordinates. */
export function project(coordinates: Float64Array, x: number, y: number, z: number, into: Span): void {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < coordinates.length; i += 3) {
    const at = coordinates[i]! * x + coordinates[i + 1]! * y + coordinates[i + 2]! * z;
    if (at < low) low = at;
    if (at > high) high = at;
  }
  into.low = low;
  into.high = high;
}

/** Told a unit axis; answers whether to go on. */
export type AxisTest = (x: number, y: number, z: number) => boolean;

/**
 * Hands every axis along which two convex pieces can be separated to the test until it says false: the face normals of
 * both, then the cross products of their edges. These are the face normals of the Minkowski difference, hence complete
 * (Gottschalk, Lin and Manocha 1996 for boxes; any convex polyhedra likewise). True when all passed.
 */
export function everyAxis(a: ConvexPiece, b: ConvexPiece, test: AxisTest): boolean {
  for (const normal of a.normals) if (!test(normal[0], normal[1], normal[2])) return false;
  for (const normal of b.normals) if (!test(normal[0], normal[1], normal[2])) return false;
  for (const u of a.edges)
    for (const v of b.edges) {
      const x = u[1] * v[2] - u[2] * v[1];
      const y = u[2] * v[0] - u[0] * v[2];
      const z = u[0] * v[1] - u[1] * v[0];
      const squared = x * x + y * y + z * z;
      if (squared < PARALLEL_SQUARED) continue;
      const factor = 1 / Math.sqrt(squared);
      if (!test(x * factor, y * factor, z * factor)) return false;
    }
  return true;
}
