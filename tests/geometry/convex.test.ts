import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boxPiece,
  conePiece,
  convexPiece,
  frustumPiece,
  placePiece,
  prismPiece,
} from '../../src/geometry/convex.js';
import { place, rotate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { cross, dot, length, subtract } from '../../src/geometry/vector.js';
import { number, piece, pose, RUNS } from './samples.js';

describe('convex pieces', () => {
  it('a box has 8 corners, 3 normals, 3 edge directions and 6 planes at its half extents', () => {
    const box = boxPiece([10, 20, 30], [1, 2, 3]);
    expect([box.vertices.length, box.normals.length, box.edges.length, box.planes.length]).toEqual([
      8, 3, 3, 6,
    ]);
    expect(box.bounds).toEqual({ low: [-9, -18, -27], high: [11, 22, 33] });
    const top = box.planes.find((plane) => plane.normal[2] > 0.5)!;
    expect(top).toEqual({ normal: [0, 0, 1], offset: 33 });
  });

  it('a hexagonal prism counts opposite faces and edges once', () => {
    const bar = frustumPiece(10, 0, 10, 50, 6);
    expect([bar.vertices.length, bar.normals.length, bar.edges.length, bar.planes.length]).toEqual([
      12, 4, 4, 8,
    ]);
  });

  it('a cone has one tip and as many sides as asked', () => {
    const cone = conePiece(10, 0, 30, 8);
    expect([cone.vertices.length, cone.planes.length]).toEqual([9, 9]);
    expect(cone.vertices.at(-1)).toEqual([0, 0, 30]);
  });

  it('the sense of a prism polygon does not matter', () => {
    const corners = [
      [0, 0],
      [40, 0],
      [10, 30],
    ] as const;
    const [one, other] = [prismPiece(corners, 0, 5), prismPiece([...corners].reverse(), 0, 5)];
    const texts = (planes: typeof one.planes): string[] =>
      planes
        .map((p) =>
          [...p.normal, p.offset]
            .map((x) => (x + 0).toFixed(9))
            .join(' ')
            .replaceAll('-0.000000000', '0.000000000'),
        )
        .sort();
    expect(texts(one.planes)).toEqual(texts(other.planes));
  });

  it('refuses corners that are not in convex position', () => {
    const arrow = [
      [0, 0],
      [40, 0],
      [10, 10],
      [0, 40],
    ] as const;
    expect(() => prismPiece(arrow, 0, 5)).toThrow(RangeError);
    expect(() => convexPiece([[0, 0, 0]], [[0, 0, 0]])).toThrow(RangeError);
  });

  it('every corner is behind every plane, every face turns about its normal', () => {
    fc.assert(
      fc.property(piece, pose(1000), (shape, where) => {
        const placed = placePiece(shape, where);
        placed.planes.forEach(({ normal, offset }, i) => {
          expect(length(normal)).toBeCloseTo(1, 12);
          for (const vertex of placed.vertices) expect(dot(normal, vertex)).toBeLessThan(offset + 1e-9);
          const [a, b, c] = placed.faces[i]!.map((n) => placed.vertices[n]!) as [Vec3, Vec3, Vec3];
          expect(dot(normal, a)).toBeCloseTo(offset, 9);
          expect(dot(normal, cross(subtract(b, a), subtract(c, b)))).toBeGreaterThan(0);
        });
        placed.vertices.forEach((vertex, i) => {
          expect(vertex).toEqual(place(where, shape.vertices[i]!));
          expect([...placed.coordinates.slice(3 * i, 3 * i + 3)]).toEqual([...vertex]);
        });
        placed.normals.forEach((normal, i) => expect(normal).toEqual(rotate(where.turn, shape.normals[i]!)));
      }),
      RUNS,
    );
  });

  it('a frustum contains the round frustum and touches it', () => {
    fc.assert(
      fc.property(
        number(0.1, 50),
        number(1, 50),
        fc.integer({ min: 3, max: 24 }),
        number(0, 1),
        number(0, 360),
        (r0, r1, count, share, degrees) => {
          const shape = frustumPiece(r0, 0, r1, 40, count);
          const radius = r0 + (r1 - r0) * share;
          const angle = (degrees * Math.PI) / 180;
          const point: Vec3 = [radius * Math.cos(angle), radius * Math.sin(angle), 40 * share];
          const depth = Math.min(...shape.planes.map(({ normal, offset }) => offset - dot(normal, point)));
          expect(depth).toBeGreaterThan(-1e-9);
          const tangent: Vec3 = [radius, 0, 40 * share];
          const sides = shape.planes.filter(({ normal }) => Math.abs(normal[2]) < 0.9999);
          const touch = Math.min(
            ...sides.map(({ normal, offset }) => Math.abs(offset - dot(normal, tangent))),
          );
          expect(touch).toBeLessThan(1e-9);
        },
      ),
      RUNS,
    );
  });
});
