import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexParts } from '../../src/geometry/decompose.js';
import type { Point2 } from '../../src/geometry/outline.js';
import { encloses, outlineFault, signedArea, turnSine } from '../../src/geometry/outline.js';
import { roundHole } from '../../src/geometry/round.js';
import { prismPiece } from '../../src/geometry/convex.js';
import { penetration } from '../../src/geometry/separation.js';

const area = (loop: readonly Point2[]): number => Math.abs(signedArea(loop));

/** A star-shaped polygon about a centre: corners at increasing angles, at any distances. */
const star = (centre: Point2, radii: readonly number[], shift: number): Point2[] =>
  radii.map((radius, i): Point2 => {
    const angle = ((i + shift) * 2 * Math.PI) / radii.length;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });

function expectSound(outline: readonly Point2[], holes: readonly (readonly Point2[])[]): void {
  const parts = convexParts(outline, holes);
  const wanted = area(outline) - holes.reduce((sum, hole) => sum + area(hole), 0);
  expect(parts.reduce((sum, part) => sum + signedArea(part), 0)).toBeCloseTo(wanted, 6);
  for (const part of parts)
    part.forEach((corner, i) => {
      const n = part.length;
      expect(turnSine(part[(i + n - 1) % n]!, corner, part[(i + 1) % n]!)).toBeGreaterThan(0);
    });
  const pieces = parts.map((part) => prismPiece(part, 0, 100));
  pieces.forEach((piece, i) => {
    for (const other of pieces.slice(i + 1)) expect(penetration(piece, other)).toBeLessThan(1e-6);
  });
}

describe('convex parts', () => {
  it('of a convex polygon are the polygon itself, whichever way round it is given', () => {
    const square: Point2[] = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ];
    expect(convexParts(square)).toHaveLength(1);
    expect(convexParts([...square].reverse())).toHaveLength(1);
  });

  it('of an L are two rectangles', () => {
    const parts = convexParts([
      [0, 0],
      [30, 0],
      [30, 10],
      [10, 10],
      [10, 40],
      [0, 40],
    ]);
    expect(parts).toHaveLength(2);
    expect(parts.reduce((sum, part) => sum + area(part), 0)).toBe(600);
  });

  it('of any star with a star-shaped hole add up to its area, are convex and do not overlap', () => {
    const radii = (low: number, high: number) =>
      fc.array(fc.double({ min: low, max: high, noNaN: true }), { minLength: 5, maxLength: 14 });
    fc.assert(
      fc.property(
        radii(60, 140),
        radii(5, 25),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (out, inn, shift) => {
          const outline = star([3, -7], out, shift);
          const hole = star([3, -7], inn, 1 - shift);
          fc.pre(outlineFault(outline) === undefined && outlineFault(hole) === undefined);
          fc.pre(hole.every((corner) => encloses(outline, corner)));
          expectSound(outline, [hole]);
        },
      ),
      { numRuns: 150, seed: 11 },
    );
  });

  it('of a plate with a row of round holes and a slot', () => {
    const outline: Point2[] = [
      [0, 0],
      [300, 0],
      [300, 80],
      [200, 80],
      [180, 40],
      [160, 80],
      [0, 80],
    ];
    const slot: Point2[] = [
      [20, 60],
      [120, 60],
      [120, 70],
      [20, 70],
    ];
    expectSound(outline, [
      roundHole(10, 12, [30, 30]),
      roundHole(10, 12, [80, 30]),
      roundHole(10, 12, [130, 30]),
      roundHole(14, 16, [240, 40]),
      slot,
    ]);
  });

  it('of an outline with its hole outside there are none', () => {
    const square = star([0, 0], [10, 10, 10, 10], 0);
    expect(() => convexParts(square, [star([50, 0], [3, 3, 3], 0)])).toThrow(RangeError);
  });
});

describe('faults of an outline', () => {
  it.each([
    [
      'a bow tie',
      [
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ],
      /cross or touch itself: sides 1 and 3/,
    ],
    [
      'a corner within a side',
      [
        [0, 0],
        [5, 0],
        [10, 0],
        [0, 10],
      ],
      /must turn at corner 2/,
    ],
    [
      'a closing corner',
      [
        [0, 0],
        [10, 0],
        [0, 10],
        [0, 0],
      ],
      /must not repeat corner 4/,
    ],
    [
      'a corner on another side',
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 0],
        [0, 10],
      ],
      /cross or touch itself/,
    ],
  ] as [string, Point2[], RegExp][])('%s', (_, corners, fault) => {
    expect(outlineFault(corners)).toMatch(fault);
  });
});
