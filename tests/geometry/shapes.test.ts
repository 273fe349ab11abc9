import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base/random.js';
import { pieceMass, combineMass } from '../../src/geometry/mass.js';
import { polygonArea } from '../../src/geometry/polygon.js';
import { block, plate, rectangularHollowSection } from '../../src/geometry/shapes.js';
import type { Solid } from '../../src/geometry/solid.js';
import { placeSolid } from '../../src/geometry/solid.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { cross, dot, subtract } from '../../src/geometry/vector.js';
import { frustumPiece, placePiece, prismPiece } from '../../src/geometry/convex.js';
import { atTurned, piece, placedSolid, pose, RUNS } from './samples.js';

const faceArea = (solid: Solid, id: string): number =>
  solid.faces
    .find((face) => face.id === id)!
    .polygons.reduce((sum, polygon) => sum + polygonArea(polygon), 0);

const contains = (solid: Solid, point: Vec3): boolean =>
  solid.pieces.some((p) => p.planes.every(({ normal, offset }) => dot(normal, point) <= offset));

/** Relative agreement of numbers that may be zero. */
const close = (got: number, wanted: number, size: number, share: number): void =>
  expect(Math.abs(got - wanted)).toBeLessThanOrEqual(share * size);

describe('shapes', () => {
  it('a block has exact volume, faces and inertia', () => {
    const solid = block(100, 60, 8);
    expect(solid.volume).toBe(48000);
    expect(solid.centre).toEqual([0, 0, 0]);
    expect(solid.inertia[0]).toBeCloseTo((48000 * (60 ** 2 + 8 ** 2)) / 12, 6);
    expect(solid.inertia[4]).toBeCloseTo((48000 * (100 ** 2 + 8 ** 2)) / 12, 6);
    expect(solid.inertia[8]).toBeCloseTo((48000 * (100 ** 2 + 60 ** 2)) / 12, 6);
    expect(solid.faces.map((face) => face.id)).toEqual(['+x', '-x', '+y', '-y', '+z', '-z']);
    expect(solid.faces.map((face) => face.offset)).toEqual([50, 50, 30, 30, 4, 4]);
    expect(faceArea(solid, '+z')).toBe(6000);
    expect(faceArea(solid, '-x')).toBe(480);
    expect(plate(100, 60, 8)).toEqual(solid);
  });

  it('a hollow section 100 x 60 x 4 has the sharp-cornered area and second moments of the tables', () => {
    const solid = rectangularHollowSection(500, 60, 100, 4);
    const area = 2 * 4 * (60 + 100 - 2 * 4);
    expect(area).toBe(1216);
    expect(solid.volume).toBeCloseTo(area * 500, 6);
    expect(faceArea(solid, '+x')).toBeCloseTo(area, 9);
    expect(faceArea(solid, '+y')).toBe(50000);
    expect(faceArea(solid, 'inner+y')).toBe(500 * 92);
    const strong = (60 * 100 ** 3 - 52 * 92 ** 3) / 12;
    const weak = (100 * 60 ** 3 - 92 * 52 ** 3) / 12;
    expect(solid.inertia[0]).toBeCloseTo((strong + weak) * 500, 0);
    expect(solid.inertia[4]).toBeCloseTo(strong * 500 + (area * 500 ** 3) / 12, 0);
    expect(solid.inertia[8]).toBeCloseTo(weak * 500 + (area * 500 ** 3) / 12, 0);
    expect(solid.faces.map((face) => face.id).sort()).toEqual(
      ['+x', '-x', '+y', '-y', '+z', '-z', 'inner+y', 'inner-y', 'inner+z', 'inner-z'].sort(),
    );
    expect(solid.faces.filter((face) => /x$/.test(face.id)).map((face) => face.polygons.length)).toEqual([
      4, 4,
    ]);
    expect(solid.faces.find((face) => face.id === 'inner+y')).toMatchObject({
      normal: [0, -1, 0],
      offset: -26,
    });
  });

  it('refuses sizes that make no shape', () => {
    expect(() => block(0, 1, 1)).toThrow(RangeError);
    expect(() => plate(10, Number.NaN, 1)).toThrow(/width/);
    expect(() => rectangularHollowSection(100, 40, 60, 20)).toThrow(/fills/);
  });

  it('its pieces add up to its mass, and its faces close around its volume', () => {
    fc.assert(
      fc.property(placedSolid(1000), (solid) => {
        const sum = combineMass(solid.pieces.map(pieceMass));
        close(sum.volume, solid.volume, solid.volume, 1e-9);
        sum.centre.forEach((x, i) => close(x, solid.centre[i]!, 1000, 1e-9));
        sum.inertia.forEach((x, i) => close(x, solid.inertia[i]!, solid.volume * 1e5, 1e-9));
        let flux = 0;
        const net = [0, 0, 0];
        for (const face of solid.faces)
          for (const polygon of face.polygons) {
            const area = polygonArea(polygon);
            flux += (face.offset * area) / 3;
            face.normal.forEach((n, i) => (net[i]! += n * area));
            const turn = cross(subtract(polygon[1]!, polygon[0]!), subtract(polygon[2]!, polygon[1]!));
            expect(dot(turn, face.normal)).toBeGreaterThan(0);
            for (const corner of polygon) expect(dot(corner, face.normal)).toBeCloseTo(face.offset, 8);
          }
        close(flux, solid.volume, solid.volume + 1e6, 1e-6);
        for (const n of net) close(n, 0, 1e5, 1e-9);
      }),
      RUNS,
    );
  });

  it('agrees with a seeded Monte-Carlo integration of a turned hollow section', () => {
    const solid = placeSolid(rectangularHollowSection(300, 80, 120, 10), atTurned(50, -30, 20, 20, 35, 50));
    const random = seededRandom(7);
    const { low, high } = solid.bounds;
    const box = (high[0] - low[0]) * (high[1] - low[1]) * (high[2] - low[2]);
    const samples = 400_000;
    const moments = { count: 0, x: 0, xx: 0, yy: 0, xy: 0 };
    for (let i = 0; i < samples; i += 1) {
      const point = low.map((from, k) => from + (high[k]! - from) * random()) as unknown as Vec3;
      if (!contains(solid, point)) continue;
      const [x, y] = subtract(point, solid.centre);
      moments.count += 1;
      moments.x += x;
      moments.xx += x * x;
      moments.yy += y * y;
      moments.xy += x * y;
    }
    const each = box / samples;
    close(moments.count * each, solid.volume, solid.volume, 0.02);
    close(moments.x / moments.count, 0, 100, 0.01);
    close((moments.xx + moments.yy) * each, solid.inertia[8], solid.inertia[8], 0.02);
    close(-moments.xy * each, solid.inertia[1], solid.inertia[8], 0.02);
  });
});

describe('mass of convex pieces', () => {
  it('a square pyramid has a third of its prism and its centre at a quarter height', () => {
    const mass = pieceMass(frustumPiece(10, 0, 0, 30, 4));
    expect(mass.volume).toBeCloseTo((20 * 20 * 30) / 3, 8);
    expect(mass.centre[2]).toBeCloseTo(7.5, 10);
    expect(mass.inertia[8]).toBeCloseTo((mass.volume * 2 * 20 ** 2) / 20, 6);
  });

  it('a triangular prism has its centre at the mean of its corners', () => {
    const mass = pieceMass(
      prismPiece(
        [
          [0, 0],
          [30, 0],
          [0, 60],
        ],
        0,
        10,
      ),
    );
    expect(mass.volume).toBeCloseTo(9000, 9);
    [10, 20, 5].forEach((wanted, i) => expect(mass.centre[i]).toBeCloseTo(wanted, 10));
    expect(mass.inertia[1]).toBeCloseTo((9000 * 30 * 60) / 36, 5);
  });

  it('does not depend on where the piece is', () => {
    fc.assert(
      fc.property(piece, pose(500), (shape, where) => {
        const [here, there] = [pieceMass(shape), pieceMass(placePiece(shape, where))];
        close(there.volume, here.volume, here.volume, 1e-9);
        const trace = (m: typeof here): number => m.inertia[0] + m.inertia[4] + m.inertia[8];
        close(trace(there), trace(here), trace(here), 1e-8);
      }),
      RUNS,
    );
  });
});
