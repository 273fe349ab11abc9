import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { closest } from '../../src/geometry/closest.js';
import { boxPiece, conePiece, frustumPiece, placePiece } from '../../src/geometry/convex.js';
import {
  pieceDistance,
  pointPieceDistance,
  pointSolidDistance,
  segmentPieceDistance,
  solidDistance,
} from '../../src/geometry/distance.js';
import { inverse, place } from '../../src/geometry/pose.js';
import { block, rectangularHollowSection } from '../../src/geometry/shapes.js';
import { placeSolid } from '../../src/geometry/solid.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { dot, length, ORIGIN } from '../../src/geometry/vector.js';
import { at, atTurned, number, piece, placedSolid, pose, RUNS, vector } from './samples.js';

const half = fc.tuple(number(0.5, 1000), number(0.5, 1000), number(0.5, 1000));
const outside = (x: number, reach: number): number => Math.max(0, Math.abs(x) - reach);

describe('distance', () => {
  it('parallel boxes: closed form, in any frame', () => {
    fc.assert(
      fc.property(half, half, vector(3000), pose(3000), (a, b, to, frame) => {
        const wanted = length(to.map((x, i) => outside(x, a[i]! + b[i]!)) as unknown as Vec3);
        const [one, other] = [placePiece(boxPiece(a), frame), placePiece(boxPiece(b, to), frame)];
        expect(Math.abs(pieceDistance(one, other) - wanted)).toBeLessThan(1e-8);
      }),
      { ...RUNS, numRuns: 2000 },
    );
  });

  it('point to a turned box: closed form', () => {
    fc.assert(
      fc.property(half, vector(2000), pose(1000), (a, point, frame) => {
        const local = place(inverse(frame), point);
        const wanted = length(local.map((x, i) => outside(x, a[i]!)) as unknown as Vec3);
        const got = pointPieceDistance(point, placePiece(boxPiece(a), frame));
        expect(Math.abs(got - wanted)).toBeLessThan(1e-8);
      }),
      { ...RUNS, numRuns: 2000 },
    );
  });

  it('crossed edges, a tip over a face, a segment beside an edge: by hand', () => {
    const a = placePiece(boxPiece([100, 10, 10]), atTurned(0, 0, 0, 45, 0, 0));
    const b = placePiece(boxPiece([10, 100, 10]), atTurned(0, 0, 20 * Math.SQRT2 + 3, 0, 45, 0));
    expect(pieceDistance(a, b)).toBeCloseTo(3, 9);
    const torch = placePiece(conePiece(20, 0, 100, 12), atTurned(7, 3, 152.5, 180, 0, 0));
    expect(pieceDistance(torch, boxPiece([50, 50, 50]))).toBeCloseTo(2.5, 9);
    expect(segmentPieceDistance([53, -500, 54], [53, 500, 54], boxPiece([50, 50, 50]))).toBeCloseTo(5, 9);
  });

  it('touching and overlapping are at distance 0, degenerate hulls included', () => {
    const cube = boxPiece([10, 10, 10]);
    expect(pieceDistance(cube, cube)).toBe(0);
    expect(pieceDistance(cube, placePiece(cube, at(20, 0, 0)))).toBe(0);
    expect(pieceDistance(cube, placePiece(cube, at(20, 20, 20)))).toBe(0);
    expect(pointPieceDistance([0, 0, 0], cube)).toBe(0);
    expect(pointPieceDistance([10, 3, 3], cube)).toBe(0);
    const same = Float64Array.of(1, 2, 3, 1, 2, 3, 1, 2, 3);
    expect(closest(same, same, ORIGIN).distance).toBe(0);
    expect(closest(same, same, [0, 3, 4]).distance).toBeCloseTo(5, 12);
  });

  it('its direction separates: every corner lies beyond the bound, and the bound is the distance', () => {
    fc.assert(
      fc.property(piece, piece, pose(800), (a, b, where) => {
        const placed = placePiece(b, where);
        const { distance, bound, direction } = closest(a.coordinates, placed.coordinates, ORIGIN);
        fc.pre(direction !== undefined && distance > 1e-3);
        const front = Math.max(...a.vertices.map((v) => dot(v, direction!)));
        const back = Math.min(...placed.vertices.map((v) => dot(v, direction!)));
        expect(back - front).toBeCloseTo(bound, 8);
        expect(distance - bound).toBeLessThan(5e-6);
      }),
      { ...RUNS, numRuns: 2000 },
    );
  });

  it('long thin parts 0.1 mm and 0.001 mm apart', () => {
    const long = boxPiece([1500, 4, 1000]);
    fc.assert(
      fc.property(pose(4000), number(-900, 900), fc.constantFrom(0.1, 0.001), (frame, slide, gap) => {
        const a = placePiece(long, frame);
        const b = placePiece(placePiece(long, at(slide, 8 + gap, -slide)), frame);
        expect(Math.abs(pieceDistance(a, b) - gap)).toBeLessThan(1e-8);
      }),
      { ...RUNS, numRuns: 1000 },
    );
  });

  it('solids: nearest pair of pieces; the inside of a tube is outside its matter', () => {
    const tube = rectangularHollowSection(300, 60, 80, 4);
    expect(pointSolidDistance([0, 0, 0], tube)).toBeCloseTo(26, 9);
    expect(solidDistance(tube, block(100, 20, 30))).toBeCloseTo(16, 9);
    expect(solidDistance(tube, placeSolid(block(100, 20, 30), at(0, 0, 56)))).toBeCloseTo(1, 9);
    expect(solidDistance(tube, placeSolid(block(100, 20, 30), at(0, 0, 55)))).toBe(0);
  });

  it('is symmetric and independent of the frame', () => {
    fc.assert(
      fc.property(placedSolid(500), placedSolid(500), pose(2000), (a, b, frame) => {
        const apart = solidDistance(a, b);
        expect(Math.abs(solidDistance(b, a) - apart)).toBeLessThan(1e-6);
        expect(Math.abs(solidDistance(placeSolid(a, frame), placeSolid(b, frame)) - apart)).toBeLessThan(
          1e-6,
        );
      }),
      RUNS,
    );
  });

  it('a many-sided bar comes near to a round one from outside', () => {
    const bar = frustumPiece(30, 0, 30, 100, 48);
    const apart = pointPieceDistance([50, 0, 50], bar);
    expect(apart).toBeLessThanOrEqual(20);
    expect(apart).toBeGreaterThan(20 - 30 * (1 / Math.cos(Math.PI / 48) - 1) - 1e-9);
  });
});
