import type { Vec3 } from '../../../geometry/vector.js';

/** Corners of a mesh as points. */
export const pointsOf = (corners: readonly number[]): readonly Vec3[] =>
  Array.from({ length: corners.length / 3 }, (_, i) => [
    corners[3 * i]!,
    corners[3 * i + 1]!,
    corners[3 * i + 2]!,
  ]);
