import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstContact } from '../../src/geometry/advance.js';
import { frustumPiece } from '../../src/geometry/convex.js';
import { rotate } from '../../src/geometry/pose.js';
import { block, plate, rectangularHollowSection } from '../../src/geometry/shapes.js';
import { shrunkCorners } from '../../src/geometry/shrink.js';
import { placeSolid } from '../../src/geometry/solid.js';
import { sweepHits } from '../../src/geometry/sweep.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { dot } from '../../src/geometry/vector.js';
import { at, atTurned, direction, number, piece, placedSolid, pose, RUNS } from './samples.js';

const TOLERANCE = 0.02;

describe('conservative advancement', () => {
  it('meets a wall after the gap and the tolerance', () => {
    const moving = block(100, 100, 100);
    const wall = placeSolid(block(10, 500, 500), at(205, 0, 0));
    expect(firstContact(moving, [1, 0, 0], 1000, wall, TOLERANCE)).toEqual({ kind: 'contact', at: 150.02 });
    expect(firstContact(moving, [1, 0, 0], 150, wall, TOLERANCE)).toEqual({ kind: 'free' });
    expect(firstContact(moving, [-1, 0, 0], 1000, wall, TOLERANCE)).toEqual({ kind: 'free' });
  });

  it('gives the nearest of several contacts', () => {
    const tube = placeSolid(rectangularHollowSection(300, 60, 80, 4), at(0, 0, 500));
    const below = block(20, 20, 20);
    expect(firstContact(below, [0, 0, 1], 1000, tube, TOLERANCE)).toEqual({ kind: 'contact', at: 450.02 });
    expect(firstContact(placeSolid(below, at(0, 0, 500)), [0, 0, 1], 1000, tube, TOLERANCE)).toEqual({
      kind: 'contact',
      at: 26.02,
    });
  });

  it('sliding along a touching face is free, pressing in is not, in any frame', () => {
    const base = plate(2000, 1000, 10);
    const rider = placeSolid(plate(300, 200, 8), at(-500, 0, 9));
    fc.assert(
      fc.property(pose(4000), (frame) => {
        const [fixed, moving] = [placeSolid(base, frame), placeSolid(rider, frame)];
        const kind = (way: Vec3): string =>
          firstContact(moving, rotate(frame.turn, way), 1500, fixed, TOLERANCE).kind;
        expect([kind([1, 0, 0]), kind([0, -1, 0]), kind([0, 0, 1])]).toEqual(['free', 'free', 'free']);
        expect([kind([0, 0, -1]), kind([Math.cos(0.01), 0, -Math.sin(0.01)])]).toEqual([
          'contact',
          'contact',
        ]);
      }),
      RUNS,
    );
  });

  it('a bar slides through a hollow section with 0.1 mm around it but not askew', () => {
    const tube = rectangularHollowSection(600, 60, 80, 4);
    const bar = (pitch: number) => placeSolid(block(300, 51.8, 71.8), atTurned(-800, 0, 0, 0, pitch, 0));
    expect(firstContact(bar(0), [1, 0, 0], 1600, tube, TOLERANCE).kind).toBe('free');
    expect(firstContact(bar(0.2), [1, 0, 0], 1600, tube, TOLERANCE).kind).toBe('contact');
  });

  it('agrees with the swept axes away from the tolerance, and on where', () => {
    const met = { hit: 0, free: 0 };
    fc.assert(
      fc.property(
        placedSolid(300),
        placedSolid(100),
        direction,
        number(10, 600),
        (moving, fixed, way, travel) => {
          const answer = firstContact(moving, way, travel, fixed, TOLERANCE);
          const surely = sweepHits(moving, way, travel, fixed, TOLERANCE * 4);
          const maybe = sweepHits(moving, way, travel, fixed, TOLERANCE / 4);
          if (surely) expect(answer.kind).toBe('contact');
          if (!maybe) expect(answer.kind).toBe('free');
          met[maybe ? 'hit' : 'free'] += 1;
          if (answer.kind === 'free' || answer.at < 1e-3) return;
          expect(sweepHits(moving, way, answer.at - 1e-3, fixed, TOLERANCE * 4)).toBe(false);
          expect(sweepHits(moving, way, answer.at + 1e-3, fixed, TOLERANCE / 4)).toBe(true);
        },
      ),
      { ...RUNS, numRuns: 1000 },
    );
    expect(Math.min(met.hit, met.free)).toBeGreaterThan(100);
  });

  it('shrinking puts every corner behind every face, and not much further than asked', () => {
    fc.assert(
      fc.property(piece, number(0.001, 0.05), (shape, by) => {
        const corners = shrunkCorners(shape, by);
        shape.planes.forEach(({ normal, offset }, face) => {
          shape.vertices.forEach((vertex, i) => {
            const moved: Vec3 = [corners[3 * i]!, corners[3 * i + 1]!, corners[3 * i + 2]!];
            expect(offset - dot(normal, moved)).toBeGreaterThan(by - 1e-9);
            if (shape.faces[face]!.includes(i))
              expect(offset - dot(normal, moved)).toBeLessThan(by * 1.0001 + 1e-9);
            expect(dot(vertex, vertex)).not.toBe(dot(moved, moved));
          });
        });
      }),
      RUNS,
    );
  });

  it('a piece thinner than the tolerance keeps half its width', () => {
    const wafer = frustumPiece(10, 0, 10, 0.01, 6);
    const heights = [...shrunkCorners(wafer, 5)].filter((_, i) => i % 3 === 2);
    expect(Math.max(...heights) - Math.min(...heights)).toBeCloseTo(0.005, 12);
  });
});
