import { describe, expect, it } from 'vitest';
import { excessTenths } from '../../src/rules/distortion-excess.js';

describe('distortion as an objective counts it', () => {
  it('is what goes beyond the limits, summed, in tenths of a millimetre rounded up', () => {
    expect(excessTenths([])).toBe(0);
    expect(excessTenths([{ deviation: 0.5, limit: 0.5 }])).toBe(0);
    expect(excessTenths([{ deviation: 0.501, limit: 0.5 }])).toBe(1);
    expect(
      excessTenths([
        { deviation: 0.7, limit: 0.5 },
        { deviation: 0.1, limit: 0.5 },
        { deviation: 1.0, limit: 0.75 },
      ]),
    ).toBe(5);
  });

  it('is counted on figures as a plan states them', () => {
    expect(excessTenths([{ deviation: 0.60004, limit: 0.5 }])).toBe(1);
    expect(excessTenths([{ deviation: 0.66671, limit: 2 / 3 }])).toBe(0);
  });
});
