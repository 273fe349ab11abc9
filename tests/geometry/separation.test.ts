import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxPiece, placePiece } from '../../src/geometry/convex.js';
import { pieceDistance, solidDistance } from '../../src/geometry/distance.js';
import { compose } from '../../src/geometry/pose.js';
import { overlap, penetration, solidPenetration, solidsOverlap } from '../../src/geometry/separation.js';
import { block, plate, rectangularHollowSection } from '../../src/geometry/shapes.js';
import { placeSolid } from '../../src/geometry/solid.js';
import { scale } from '../../src/geometry/vector.js';
import { at, atTurned, direction, number, piece, placedSolid, pose, RUNS, vector } from './samples.js';

describe('separation', () => {
  it('touching faces, edges and corners do not overlap, in any frame, even with no tolerance', () => {
    const cube = boxPiece([50, 50, 50]);
    fc.assert(
      fc.property(
        pose(3000),
        fc.constantFrom([100, 0, 0], [100, 100, 0], [100, 100, 100], [100, 30, 20]),
        (frame, to) => {
          const a = placePiece(cube, frame);
          const b = placePiece(cube, compose(frame, at(to[0]!, to[1]!, to[2]!)));
          expect(overlap(a, b, 0)).toBe(false);
          expect(penetration(a, b)).toBe(0);
        },
      ),
      RUNS,
    );
  });

  it('counts an overlap only beyond the tolerance', () => {
    const a = block(100, 100, 100);
    const b = placeSolid(block(100, 100, 100), at(0, 0, 99.97));
    expect(solidPenetration(a, b)).toBeCloseTo(0.03, 9);
    expect([0, 0.02, 0.03, 0.04].map((tolerance) => solidsOverlap(a, b, tolerance))).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });

  it('judges 0.1 mm between and into 2 m parts, whatever the frame', () => {
    const long = plate(2000, 1500, 12);
    fc.assert(
      fc.property(pose(5000), (frame) => {
        const a = placeSolid(long, frame);
        const near = (gap: number) => placeSolid(long, compose(frame, at(0, 0, 12 + gap)));
        expect(solidsOverlap(a, near(0.1), 0.02)).toBe(false);
        expect(solidsOverlap(a, near(0), 0)).toBe(false);
        expect(solidsOverlap(a, near(-0.1), 0.02)).toBe(true);
        expect(solidPenetration(a, near(-0.1))).toBeCloseTo(0.1, 6);
        expect(solidDistance(a, near(0.1))).toBeCloseTo(0.1, 8);
      }),
      RUNS,
    );
  });

  it('needs the edge cross products: two crossed edges near each other', () => {
    const a = placeSolid(block(200, 20, 20), atTurned(0, 0, 0, 45, 0, 0));
    const b = (gap: number) =>
      placeSolid(block(20, 200, 20), atTurned(0, 0, 20 * Math.SQRT2 + gap, 0, 45, 0));
    expect(solidsOverlap(a, b(0.01), 0)).toBe(false);
    expect(solidsOverlap(a, b(-0.05), 0.02)).toBe(true);
    expect(solidPenetration(a, b(-0.05))).toBeCloseTo(0.05, 9);
  });

  it('a bar inside a hollow section is free; one in its wall is not', () => {
    const tube = rectangularHollowSection(300, 60, 80, 4);
    expect(solidsOverlap(tube, block(400, 52, 72), 0)).toBe(false);
    expect(solidsOverlap(tube, block(400, 53, 72), 0.02)).toBe(true);
    expect(solidPenetration(tube, block(400, 53, 72))).toBeCloseTo(0.5, 9);
  });

  it('parallel boxes penetrate by the least of their overlaps', () => {
    const half = fc.tuple(number(5, 100), number(5, 100), number(5, 100));
    fc.assert(
      fc.property(half, half, vector(150), (a, b, to) => {
        const overlaps = to.map((x, i) => a[i]! + b[i]! - Math.abs(x));
        expect(penetration(boxPiece(a), boxPiece(b, to))).toBeCloseTo(Math.max(0, Math.min(...overlaps)), 5);
      }),
      RUNS,
    );
  });

  it('agrees with distances: apart exactly when there is a distance', () => {
    const seen = { deep: 0, apart: 0, touching: 0 };
    fc.assert(
      fc.property(piece, piece, pose(250), (a, b, where) => {
        const placed = placePiece(b, where);
        const [depth, apart] = [penetration(a, placed), pieceDistance(a, placed)];
        if (depth > 1e-5) expect(apart).toBe(0);
        if (apart > 1e-5) expect(depth).toBe(0);
        expect(penetration(placed, a)).toBeCloseTo(depth, 5);
        seen[depth > 1e-5 ? 'deep' : apart > 1e-5 ? 'apart' : 'touching'] += 1;
      }),
      { ...RUNS, numRuns: 1000 },
    );
    expect(Math.min(seen.deep, seen.apart)).toBeGreaterThan(200);
    expect(seen.touching).toBeLessThan(100);
  });

  it('no shorter move than the penetration parts two pieces', () => {
    fc.assert(
      fc.property(piece, piece, pose(100), direction, (a, b, where, way) => {
        const placed = placePiece(b, where);
        const depth = penetration(a, placed);
        fc.pre(depth > 1e-3);
        const moved = placePiece(placed, at(...scale(way, depth * 0.999)));
        expect(pieceDistance(a, moved)).toBe(0);
      }),
      RUNS,
    );
  });

  it('answers the same when both solids are moved and turned together', () => {
    fc.assert(
      fc.property(placedSolid(150), placedSolid(150), vector(3000), number(-180, 180), (a, b, to, yaw) => {
        const frame = atTurned(...to, 0, 0, yaw);
        const depth = solidPenetration(a, b);
        fc.pre(Math.abs(depth - 0.02) > 1e-4);
        const [movedA, movedB] = [placeSolid(a, frame), placeSolid(b, frame)];
        expect(solidsOverlap(movedA, movedB, 0.02)).toBe(depth > 0.02);
        expect(solidsOverlap(b, a, 0.02)).toBe(depth > 0.02);
        expect(solidPenetration(movedA, movedB)).toBeCloseTo(depth, 5);
      }),
      RUNS,
    );
  });
});
