import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kendall, midRanks, spearman } from '../../src/algorithms/rank-correlation.js';

describe('ranks', () => {
  it('begin at 1 and are shared by equal values', () => {
    expect(midRanks([30, 10, 20])).toEqual([3, 1, 2]);
    expect(midRanks([5, 1, 5, 5, 0])).toEqual([4, 2, 4, 4, 1]);
  });
});

describe('rank correlation', () => {
  it('is 1 for the same order and -1 for the opposite one, however far values lie apart', () => {
    expect(spearman([1, 2, 3, 4], [1, 10, 100, 1000])).toBeCloseTo(1, 12);
    expect(kendall([1, 2, 3, 4], [9, 7, 5, 1])).toBeCloseTo(-1, 12);
  });

  // Ranks 1..5 against 2 1 4 3 5: differences 1 1 1 1 0, so 1 - 6 * 4 / (5 * 24) = 0.8; 8 pairs alike of 10, 2 not: 0.6.
  it('without ties is what the classic formulas give', () => {
    const [xs, ys] = [
      [10, 20, 30, 40, 50],
      [2, 1, 4, 3, 5],
    ];
    expect(spearman(xs, ys)).toBeCloseTo(0.8, 12);
    expect(kendall(xs, ys)).toBeCloseTo(0.6, 12);
  });

  // x 1 2 2 3, y 1 3 2 3: ranks 1 2.5 2.5 4 and 1 3.5 2 3.5, deviations -1.5 0 0 1.5 and -1.5 1 -0.5 1:
  // 3.75 / sqrt(4.5 * 4.5). Pairs: 4 alike, none against, 5 ordered by x and 5 by y.
  it('with ties is what is worked out by hand', () => {
    const [xs, ys] = [
      [1, 2, 2, 3],
      [1, 3, 2, 3],
    ];
    expect(spearman(xs, ys)).toBeCloseTo(3.75 / 4.5, 12);
    expect(kendall(xs, ys)).toBeCloseTo(4 / 5, 12);
  });

  it('says nothing where one list has equal values only', () => {
    expect(spearman([1, 1, 1], [1, 2, 3])).toBeNaN();
    expect(kendall([1, 1, 1], [1, 2, 3])).toBeNaN();
  });

  it('lies between -1 and 1, and does not depend on which list comes first', () => {
    const pairs = fc.array(fc.tuple(fc.nat(6), fc.nat(6)), { minLength: 2, maxLength: 20 });
    fc.assert(
      fc.property(pairs, (list) => {
        const [xs, ys] = [list.map(([x]) => x), list.map(([, y]) => y)];
        for (const correlate of [spearman, kendall]) {
          const value = correlate(xs, ys);
          expect(Object.is(value, correlate(ys, xs)) || Math.abs(value - correlate(ys, xs)) < 1e-12).toBe(
            true,
          );
          expect(Number.isNaN(value) || Math.abs(value) <= 1 + 1e-12).toBe(true);
        }
      }),
      { seed: 5 },
    );
  });

  it('refuses lists of different lengths', () => {
    expect(() => spearman([1], [1, 2])).toThrow('1 values beside 2.');
  });
});
