import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxPiece } from '../../src/geometry/convex.js';
import { compound } from '../../src/geometry/compound.js';
import { IDENTITY, translate } from '../../src/geometry/pose.js';
import { block } from '../../src/geometry/shapes.js';
import { placeSolid } from '../../src/geometry/solid.js';
import type { Vec3 } from '../../src/geometry/vector.js';

const moved = (size: Vec3, by: Vec3) => placeSolid(block(...size), translate(IDENTITY, by));
const near = (found: readonly number[], wanted: readonly number[], scale: number): void =>
  found.forEach((x, i) => expect(Math.abs(x - wanted[i]!)).toBeLessThan(1e-9 * scale));

describe('a compound', () => {
  it('of the two pieces of a cut block of one density is the block', () => {
    const size = fc.integer({ min: 10, max: 400 });
    fc.assert(
      fc.property(size, size, size, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (x, y, z, share) => {
        const [left, right] = [x * share, x * (1 - share)];
        const whole = block(x, y, z);
        const cut = compound([
          { id: 'a', solid: moved([left, y, z], [left / 2 - x / 2, 0, 0]), weight: 3 * share },
          { id: 'b', solid: moved([right, y, z], [x / 2 - right / 2, 0, 0]), weight: 3 * (1 - share) },
        ]);
        near([cut.volume], [whole.volume], whole.volume);
        near(cut.centre, [0, 0, 0], x + y + z);
        near(cut.inertia, whole.inertia, Math.max(...whole.inertia));
      }),
    );
  });

  it('has its centre and its inertia by weight, not by volume', () => {
    // Two equal cubes of 10 mm, 100 mm apart, one three times as heavy: by hand as points and cubes.
    const { centre, inertia, volume } = compound([
      { id: 'light', solid: moved([10, 10, 10], [0, 0, 0]), weight: 1 },
      { id: 'heavy', solid: moved([10, 10, 10], [100, 0, 0]), weight: 3 },
    ]);
    near(centre, [75, 0, 0], 100);
    expect(volume).toBeCloseTo(2000, 9);
    // kg mm2: each cube m a^2 / 6, and m r^2; times volume over mass.
    const across = (4 * 100) / 6 + 1 * 75 ** 2 + 3 * 25 ** 2;
    near([inertia[0], inertia[4]], [((4 * 100) / 6) * 500, across * 500], 1e7);
  });

  it('names faces by member, keeps those that are covered, and counts what is extra only as being in the way', () => {
    const solid = compound(
      [
        { id: 'low', solid: moved([20, 20, 10], [0, 0, 0]), weight: 1 },
        { id: 'high', solid: moved([20, 20, 10], [0, 0, 10]), weight: 1 },
      ],
      [boxPiece([1, 1, 1], [30, 0, 0])],
    );
    expect(solid.faces).toHaveLength(12);
    expect(solid.faces.map(({ id }) => id)).toEqual(expect.arrayContaining(['low/+z', 'high/-z']));
    expect(solid.pieces).toHaveLength(3);
    expect(solid.bounds.high[0]).toBe(31);
    near([solid.volume, ...solid.centre], [8000, 0, 0, 5], 8000);
  });
});
