import { dot, subtract, type Vec3 } from '../geometry/vector.js';

/** A convex polygon that faces the viewer, with the part it belongs to and which of its sides are real edges. */
export interface Facet {
  readonly points: readonly Vec3[];
  /** Whether the side from point i to point i + 1 is an edge of the part. */
  readonly edges: readonly boolean[];
  readonly normal: Vec3;
  readonly part: number;
}

/** Points this near to a plane lie on it, mm. */
const ON_PLANE = 1e-5;

interface Sides {
  readonly front: Facet | undefined;
  readonly back: Facet | undefined;
}

/** A facet cut by the plane through `origin`; the cut itself is no edge. */
function cut(facet: Facet, normal: Vec3, origin: Vec3): Sides {
  const { points, edges } = facet;
  const heights = points.map((point) => {
    const height = dot(normal, subtract(point, origin));
    return Math.abs(height) < ON_PLANE ? 0 : height;
  });
  if (heights.every((height) => height >= 0)) return { front: facet, back: undefined };
  if (heights.every((height) => height <= 0)) return { front: undefined, back: facet };
  const half = (sign: number): Facet => {
    const kept: Vec3[] = [];
    const real: boolean[] = [];
    points.forEach((point, i) => {
      const next = (i + 1) % points.length;
      const [here, there] = [heights[i]! * sign, heights[next]! * sign];
      if (here >= 0) {
        kept.push(point);
        // Where the outline leaves this half on the plane, the side that follows is the cut.
        real.push(here === 0 && there < 0 ? false : edges[i]!);
      }
      if (here * there < 0) {
        const share = here / (here - there);
        const to = points[next]!;
        kept.push([0, 1, 2].map((k) => point[k]! + (to[k]! - point[k]!) * share) as unknown as Vec3);
        real.push(here > 0 ? false : edges[i]!);
      }
    });
    return { ...facet, points: kept, edges: real };
  };
  return { front: half(1), back: half(-1) };
}

/**
 * Facets in an order in which they can be painted over one another, far to near, cut where needed: a binary partition
 * of space by the planes of the facets themselves (Fuchs, Kedem and Naylor 1980). All must face the viewer, so what
 * is behind a plane is always painted first.
 */
export function paintOrder(facets: readonly Facet[]): readonly Facet[] {
  const [first, ...rest] = facets;
  if (!first) return [];
  const [level, front, back]: [Facet[], Facet[], Facet[]] = [[first], [], []];
  for (const facet of rest) {
    const heights = facet.points.map((point) => dot(first.normal, subtract(point, first.points[0]!)));
    if (heights.every((height) => Math.abs(height) < ON_PLANE)) {
      level.push(facet);
      continue;
    }
    const sides = cut(facet, first.normal, first.points[0]!);
    if (sides.front) front.push(sides.front);
    if (sides.back) back.push(sides.back);
  }
  return [...paintOrder(back), ...level, ...paintOrder(front)];
}
