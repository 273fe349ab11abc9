import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull, convexOutline } from '../../src/geometry/hull.js';
import { polygonArea } from '../../src/geometry/polygon.js';
import { pieceMass } from '../../src/geometry/mass.js';
import { convexPiece } from '../../src/geometry/convex.js';
import { angle, roundHollowSection } from '../../src/geometry/sections.js';
import type { Solid } from '../../src/geometry/solid.js';
import { dot, type Vec3 } from '../../src/geometry/vector.js';

const vertices = (solid: Solid): Vec3[] => solid.pieces.flatMap((piece) => [...piece.vertices]);

/** Volume inside outward faces by the divergence theorem: a third of the sum of offset times area. */
const volume = (points: readonly Vec3[]): number =>
  convexHull(points).reduce((sum, { offset, corners }) => sum + (offset * polygonArea(corners)) / 3, 0);

describe('convex hull', () => {
  it('of the corners of a box and points inside and on it: six rectangles', () => {
    const box = [-1, 1].flatMap((x) => [-2, 2].flatMap((y) => [-3, 3].map((z): Vec3 => [x, y, z])));
    const more: Vec3[] = [
      [0, 0, 0],
      [1, 0.5, 0.5],
      [0, 2, 3],
      [1, 2, 0],
    ];
    const faces = convexHull([...more, ...box]);
    expect(faces).toHaveLength(6);
    for (const { corners } of faces) expect(corners).toHaveLength(4);
    expect(volume([...more, ...box])).toBeCloseTo(48, 9);
  });

  it('of an angle spans its toes with one face', () => {
    const faces = convexHull(vertices(angle(200, 60, 60, 6)));
    expect(faces).toHaveLength(7);
    const oblique = faces.filter(({ normal }) => normal.every((x) => Math.abs(x) < 0.9));
    expect(oblique).toHaveLength(1);
    expect(oblique[0]!.normal[1]).toBeCloseTo(Math.SQRT1_2, 12);
    // The tips are 54 mm apart along y and z.
    expect(polygonArea(oblique[0]!.corners)).toBeCloseTo(200 * 54 * Math.SQRT2, 6);
  });

  it('of a tube leaves the bore out', () => {
    expect(convexHull(vertices(roundHollowSection(100, 60, 4)))).toHaveLength(22);
  });

  it('has all points behind its faces, meets itself in every edge, and does not depend on the order of the points', () => {
    const coordinate = fc.integer({ min: -20, max: 20 });
    const point = fc.tuple(coordinate, coordinate, coordinate);
    fc.assert(
      fc.property(fc.array(point, { minLength: 8, maxLength: 30 }), (points: Vec3[]) => {
        const flat = (axis: (p: Vec3) => number): boolean => new Set(points.map(axis)).size < 3;
        fc.pre(
          !flat((p) => p[0]) && !flat((p) => p[1]) && !flat((p) => p[2]) && !flat((p) => p[0] + p[1] + p[2]),
        );
        fc.pre(!coplanar(points));
        const faces = convexHull(points);
        for (const { normal, offset } of faces)
          for (const p of points) expect(dot(normal, p)).toBeLessThan(offset + 1e-4);
        const corners = new Set(faces.flatMap((face) => face.corners.map(String))).size;
        const edges = faces.reduce((sum, face) => sum + face.corners.length, 0) / 2;
        // Euler: corners - edges + faces = 2 for the surface of any convex body.
        expect(corners - edges + faces.length).toBe(2);
        const other = convexHull([...points].reverse());
        const told = (all: typeof faces): string[] =>
          all.map(({ normal, offset }) => [...normal, offset].map((x) => (x + 0).toFixed(6)).join()).sort();
        expect(told(other).map((t) => t.replaceAll('-0.000000', '0.000000'))).toEqual(
          told(faces).map((t) => t.replaceAll('-0.000000', '0.000000')),
        );
      }),
      { numRuns: 200, seed: 3 },
    );
  });

  it('of the corners of a convex piece has its volume', () => {
    const corners: Vec3[] = [
      [0, 0, 0],
      [40, 0, 0],
      [0, 30, 0],
      [0, 0, 20],
    ];
    const piece = convexPiece(corners, [
      [0, 1, 2],
      [0, 1, 3],
      [0, 2, 3],
      [1, 2, 3],
    ]);
    expect(volume(corners)).toBeCloseTo(pieceMass(piece).volume, 9);
  });
});

/** Whether all points lie in one plane: no four span a volume. */
function coplanar(points: readonly Vec3[]): boolean {
  for (let i = 0; i + 3 < points.length; i += 1)
    for (let j = i + 1; j < points.length; j += 1)
      for (let k = j + 1; k < points.length; k += 1) {
        const [a, b, c, d] = [points[0]!, points[i]!, points[j]!, points[k]!];
        const m = [b, c, d].map((p) => [p[0] - a[0], p[1] - a[1], p[2] - a[2]] as const);
        const [p, q, r] = m as [Vec3, Vec3, Vec3];
        const det =
          p[0] * (q[1] * r[2] - q[2] * r[1]) -
          p[1] * (q[0] * r[2] - q[2] * r[0]) +
          p[2] * (q[0] * r[1] - q[1] * r[0]);
        if (det !== 0) return false;
      }
  return true;
}

describe('convex outline', () => {
  it('leaves out corners within a side and points inside', () => {
    const points: Vec3[] = [
      [0, 0, 5],
      [10, 0, 5],
      [5, 0, 5],
      [10, 10, 5],
      [4, 4, 5],
      [0, 10, 5],
      [0, 5, 5],
    ];
    const outline = convexOutline(points, [0, 0, 1], 1e-9);
    expect(outline).toHaveLength(4);
    expect(polygonArea(outline)).toBe(100);
  });
});
