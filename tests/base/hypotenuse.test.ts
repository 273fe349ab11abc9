import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { diagonal, hypotenuse } from '../../src/base/hypotenuse.js';

const leg = fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe('hypotenuse', () => {
  it('is what Math.hypot gives, to the last bit', () => {
    fc.assert(
      fc.property(leg, leg, (a, b) => {
        expect(hypotenuse(a, b)).toBe(Math.hypot(a, b));
      }),
      { seed: 6, numRuns: 20_000 },
    );
  });

  it('is that of three legs too', () => {
    fc.assert(
      fc.property(leg, leg, leg, (a, b, c) => {
        expect(diagonal(a, b, c)).toBe(Math.hypot(a, b, c));
      }),
      { seed: 7, numRuns: 20_000 },
    );
    expect(diagonal(0, 0, 0)).toBe(0);
  });

  it('is the longer leg where the other is nothing, and 0 without legs', () => {
    expect(hypotenuse(0, -3)).toBe(3);
    expect(hypotenuse(-0, 0)).toBe(0);
  });
});
