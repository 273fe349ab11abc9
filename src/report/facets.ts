import { polygonContains } from '../geometry/polygon.js';
import type { PlanarFace, Solid } from '../geometry/solid.js';
import { add, along, dot, length, scale, subtract, type Vec3 } from '../geometry/vector.js';
import type { Facet } from './paint-order.js';

const GRAIN = 1e-6;

/** Where corners of other polygons lie on a side, as shares of its length, ends left out, in order. */
function cutsOn(from: Vec3, to: Vec3, others: readonly (readonly Vec3[])[]): number[] {
  const way = subtract(to, from);
  const size = length(way);
  const shares = others.flat().flatMap((corner) => {
    const share = dot(subtract(corner, from), way) / (size * size);
    const off = length(subtract(corner, along(from, way, share)));
    return off < GRAIN && share * size > GRAIN && (1 - share) * size > GRAIN ? [share] : [];
  });
  return [...new Set(shares)].sort((p, q) => p - q);
}

/** A polygon of a face as a facet: a side that another polygon of the face continues is no edge. */
function facetOf(face: PlanarFace, polygon: readonly Vec3[], part: number): Facet {
  const others = face.polygons.filter((other) => other !== polygon);
  const points: Vec3[] = [];
  const edges: boolean[] = [];
  polygon.forEach((from, i) => {
    const to = polygon[(i + 1) % polygon.length]!;
    const way = subtract(to, from);
    const shares = [0, ...cutsOn(from, to, others), 1];
    for (let k = 0; k + 1 < shares.length; k += 1) {
      const middle = along(from, way, (shares[k]! + shares[k + 1]!) / 2);
      points.push(along(from, way, shares[k]!));
      edges.push(!others.some((other) => polygonContains(other, face.normal, middle, GRAIN)));
    }
  });
  return { points, edges, normal: face.normal, part };
}

/** The facets of a face; sides within the face are no edges. */
export const facetsOf = (face: PlanarFace, part: number): readonly Facet[] =>
  face.polygons.map((polygon) => facetOf(face, polygon, part));

/** The facets of a solid that face the viewer. */
export const facetsToward = (solid: Solid, toward: Vec3, part: number): readonly Facet[] =>
  solid.faces.flatMap((face) => (dot(face.normal, toward) < GRAIN ? [] : facetsOf(face, part)));

/** Points well inside a convex facet: its middle, and between its middle and its corners. */
export function insidePoints({ points }: Facet): readonly Vec3[] {
  const middle = scale(points.reduce(add), 1 / points.length);
  const toward = (share: number): Vec3[] =>
    points.map((point) => along(middle, subtract(point, middle), share));
  return [middle, ...toward(0.45), ...toward(0.8)];
}
