import type { Solid } from '../geometry/solid.js';
import { length, type Vec3 } from '../geometry/vector.js';
import type { Scene } from '../model/scene.js';

/** The corners of a solid, each once. */
export function cornersOf({ faces }: Solid): readonly Vec3[] {
  const corners = faces.flatMap(({ polygons }) => polygons.flat());
  return [...new Map(corners.map((corner) => [corner.map((x) => x.toFixed(3)).join(), corner])).values()];
}

/** A part with its tacks to others. */
export interface JoinedPart {
  /** Index of the part. */
  readonly part: number;
  readonly tacks: readonly { readonly a: number; readonly b: number }[];
}

/**
 * How far off its place a stage leaves its part: the greatest distance by which a corner of it, or of a part that its
 * tacks join it to, has been displaced, mm.
 */
export function stageDeviation(
  { parts }: Pick<Scene, 'parts'>,
  { part, tacks }: JoinedPart,
  displacement: (part: number, at: Vec3) => Vec3,
): number {
  const joined = new Set([part, ...tacks.flatMap(({ a, b }) => [a, b])]);
  const far = [...joined].map((one) =>
    Math.max(...cornersOf(parts[one]!.solid).map((corner) => length(displacement(one, corner)))),
  );
  return Math.max(...far);
}
