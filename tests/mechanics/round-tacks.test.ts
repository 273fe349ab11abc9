import { describe, expect, it } from 'vitest';
import { roundTackForce } from '../../src/mechanics/round-tacks.js';

describe('roundTackForce', () => {
  it('is the moment over the sum of squared distances times the radius, about any axis', () => {
    for (const count of [3, 4, 7]) {
      for (const turn of [0, 0.3, 1.1]) {
        const heights = Array.from({ length: count }, (_, i) =>
          Math.sin(turn + (2 * Math.PI * i) / count),
        ).map((y) => 12 * y);
        const squares = heights.reduce((sum, y) => sum + y * y, 0);
        expect(roundTackForce(1000, 0, 12, count)).toBeCloseTo((1000 * 12) / squares, 9);
        for (const y of heights)
          expect(Math.abs((1000 * y) / squares)).toBeLessThanOrEqual((1000 / squares) * 12 + 1e-9);
      }
    }
  });

  it('tends to the ring treated as a line: per mm M / (pi r^2) (Blodgett, from memory)', () => {
    const many = 1000;
    const perMillimetre = roundTackForce(5000, 0, 20, many) / ((2 * Math.PI * 20) / many);
    expect(perMillimetre).toBeCloseTo(5000 / (Math.PI * 20 ** 2), 9);
  });

  it('adds an equal share of the shear', () => {
    expect(roundTackForce(0, 30, 10, 3)).toBe(10);
    expect(roundTackForce(150, 30, 10, 3)).toBe(20);
  });
});
