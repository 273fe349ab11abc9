import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ConvexPiece } from '../../src/geometry/convex.js';
import { placePiece } from '../../src/geometry/convex.js';
import { pieceDistance } from '../../src/geometry/distance.js';
import { compose, rotate } from '../../src/geometry/pose.js';
import { penetration, solidsOverlap } from '../../src/geometry/separation.js';
import { block, plate, rectangularHollowSection } from '../../src/geometry/shapes.js';
import { placeSolid } from '../../src/geometry/solid.js';
import { pieceSweepHits, sweepHits } from '../../src/geometry/sweep.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { scale } from '../../src/geometry/vector.js';
import { at, atTurned, direction, number, piece, placedSolid, pose, RUNS } from './samples.js';

const TOLERANCE = 0.02;

/** Greatest penetration (or less negative distance) on the way, by golden section: it is concave along the way. */
function deepest(moving: ConvexPiece, way: Vec3, travel: number, fixed: ConvexPiece): number {
  const depth = (s: number): number => {
    const moved = placePiece(moving, at(...scale(way, s)));
    const inside = penetration(moved, fixed);
    return inside > 0 ? inside : -pieceDistance(moved, fixed);
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [0, travel];
  while (high - low > 1e-7) {
    const [left, right] = [high - golden * (high - low), low + golden * (high - low)];
    if (depth(left) >= depth(right)) high = right;
    else low = left;
  }
  return Math.max(depth(0), depth((low + high) / 2), depth(travel));
}

describe('sweep', () => {
  it('sliding along a touching face is free, lifting off too, pressing in is not, in any frame', () => {
    const base = plate(2000, 1000, 10);
    const rider = placeSolid(plate(300, 200, 8), at(-500, 0, 9));
    fc.assert(
      fc.property(pose(4000), (frame) => {
        const [fixed, moving] = [placeSolid(base, frame), placeSolid(rider, frame)];
        const hits = (way: Vec3): boolean =>
          sweepHits(moving, rotate(frame.turn, way), 1500, fixed, TOLERANCE);
        expect([hits([1, 0, 0]), hits([0, -1, 0]), hits([0, 0, 1])]).toEqual([false, false, false]);
        expect([hits([0, 0, -1]), hits([Math.cos(0.01), 0, -Math.sin(0.01)])]).toEqual([true, true]);
      }),
      RUNS,
    );
  });

  it('a step in the way is hit only when the travel reaches deeper than the tolerance', () => {
    const moving = block(100, 100, 100);
    const step = placeSolid(block(100, 100, 100), at(200, 0, 0));
    const travels = [0, 99, 100, 100.01, 100.02, 100.03, 300, 1000];
    expect(travels.map((travel) => sweepHits(moving, [1, 0, 0], travel, step, TOLERANCE))).toEqual([
      false,
      false,
      false,
      false,
      false,
      true,
      true,
      true,
    ]);
    expect(sweepHits(moving, [-1, 0, 0], 1000, step, TOLERANCE)).toBe(false);
    const beside = placeSolid(block(100, 100, 100), at(200, 99.99, 0));
    expect(sweepHits(moving, [1, 0, 0], 1000, beside, TOLERANCE)).toBe(false);
  });

  it('what overlaps at the start is a hit with no travel at all', () => {
    const moving = block(100, 100, 100);
    const inside = placeSolid(block(100, 100, 100), at(99, 0, 0));
    expect(sweepHits(moving, [-1, 0, 0], 0, inside, TOLERANCE)).toBe(true);
    expect(sweepHits(moving, [-1, 0, 0], 500, inside, TOLERANCE)).toBe(true);
  });

  it('what is pressed in by less than the tolerance lifts off and slides away, on every side', () => {
    const frame = atTurned(300, -200, 100, 30, 20, 45);
    const fixed = placeSolid(block(100, 100, 100), frame);
    const sides: readonly Vec3[] = [
      [1, 0, 0],
      [-1, 0, 0],
      [0, 1, 0],
      [0, -1, 0],
      [0, 0, 1],
      [0, 0, -1],
    ];
    for (const side of sides) {
      const moving = placeSolid(block(100, 100, 100), compose(frame, at(...scale(side, 99.99))));
      const hits = (way: Vec3): boolean => sweepHits(moving, rotate(frame.turn, way), 500, fixed, TOLERANCE);
      expect(hits(side)).toBe(false);
      expect(hits([side[1], side[2], side[0]])).toBe(false);
      expect(hits(scale(side, -1))).toBe(true);
    }
  });

  it('stops short of what lies askew ahead, though the boxes around both overlap', () => {
    const askew = (along: number) =>
      placeSolid(block(100, 100, 100), compose(atTurned(0, 0, 0, 0, 0, 45), at(along, 0, 0)));
    const way: Vec3 = [Math.SQRT1_2, Math.SQRT1_2, 0];
    const hits = (travel: number): boolean => sweepHits(askew(0), way, travel, askew(150), TOLERANCE);
    expect([0, 40, 50, 50.01, 50.03, 60].map(hits)).toEqual([false, false, false, false, true, true]);
  });

  it('a plate thinner than any sampling step is not jumped over', () => {
    const moving = block(5, 5, 5);
    const sheet = placeSolid(block(0.5, 500, 500), at(900, 0, 0));
    expect(sweepHits(moving, [1, 0, 0], 2000, sheet, TOLERANCE)).toBe(true);
  });

  it('a bar slides through a hollow section with 0.1 mm around it but not askew', () => {
    const tube = rectangularHollowSection(600, 60, 80, 4);
    const bar = (pitch: number) => placeSolid(block(300, 51.8, 71.8), atTurned(-800, 0, 0, 0, pitch, 0));
    expect(sweepHits(bar(0), [1, 0, 0], 1600, tube, TOLERANCE)).toBe(false);
    expect(sweepHits(bar(0.2), [1, 0, 0], 1600, tube, TOLERANCE)).toBe(true);
  });

  it('agrees with the deepest point of the way found by golden section', () => {
    fc.assert(
      fc.property(piece, piece, pose(400), direction, number(0, 800), (moving, fixed, where, way, travel) => {
        const placed = placePiece(moving, where);
        const depth = deepest(placed, way, travel, fixed);
        fc.pre(Math.abs(depth - TOLERANCE) > 1e-3);
        expect(pieceSweepHits(placed, way, travel, fixed, TOLERANCE)).toBe(depth > TOLERANCE);
      }),
      { ...RUNS, numRuns: 200 },
    );
  });

  it('finds every overlap that dense sampling of the way finds', () => {
    let met = 0;
    fc.assert(
      fc.property(
        placedSolid(300),
        placedSolid(100),
        direction,
        number(50, 600),
        (moving, fixed, way, travel) => {
          const sampled = Array.from({ length: 60 }, (_, i) => (i * travel) / 59).some((s) =>
            solidsOverlap(placeSolid(moving, at(...scale(way, s))), fixed, TOLERANCE),
          );
          if (sampled) met += 1;
          const hits = sweepHits(moving, way, travel, fixed, TOLERANCE);
          if (sampled) expect(hits).toBe(true);
          if (!hits) expect(sampled).toBe(false);
        },
      ),
      RUNS,
    );
    expect(met).toBeGreaterThan(30);
  });

  it('answers the same when all is moved and turned together, and when the other one moves back', () => {
    fc.assert(
      fc.property(
        placedSolid(300),
        placedSolid(100),
        direction,
        fc.tuple(number(-3000, 3000), number(-180, 180)),
        (moving, fixed, way, [shift, yaw]) => {
          const hits = sweepHits(moving, way, 400, fixed, TOLERANCE);
          fc.pre(sweepHits(moving, way, 400.001, fixed, TOLERANCE + 1e-4) === hits);
          fc.pre(sweepHits(moving, way, 399.999, fixed, TOLERANCE - 1e-4) === hits);
          const frame = compose(atTurned(shift, -shift, shift / 2, 0, 0, yaw), at(0, 0, 0));
          const turned = rotate(frame.turn, way);
          expect(sweepHits(placeSolid(moving, frame), turned, 400, placeSolid(fixed, frame), TOLERANCE)).toBe(
            hits,
          );
          expect(sweepHits(fixed, scale(way, -1), 400, moving, TOLERANCE)).toBe(hits);
        },
      ),
      RUNS,
    );
  });
});
