import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assign } from '../../src/algorithms/assignment.js';

const entry = fc.oneof({ weight: 5, arbitrary: fc.integer({ min: -20, max: 50 }) }, fc.constant(Infinity));

const square = fc
  .integer({ min: 0, max: 6 })
  .chain((n) => fc.array(fc.array(entry, { minLength: n, maxLength: n }), { minLength: n, maxLength: n }));

function leastByListing(cost: readonly (readonly number[])[], row = 0, used = new Set<number>()): number {
  if (row === cost.length) return 0;
  let least = Infinity;
  cost[row]!.forEach((value, column) => {
    if (used.has(column)) return;
    used.add(column);
    least = Math.min(least, value + leastByListing(cost, row + 1, used));
    used.delete(column);
  });
  return least;
}

describe('assign', () => {
  it('finds the least total, with prices that prove it', () => {
    fc.assert(
      fc.property(square, (cost) => {
        const found = assign(cost);
        const least = leastByListing(cost);
        if (found === undefined) {
          expect(least).toBe(Infinity);
          return;
        }
        expect(found.total).toBe(least);
        expect([...found.columnOf].sort((a, b) => a - b)).toEqual(cost.map((_, i) => i));
        cost.forEach((row, i) =>
          row.forEach((value, j) =>
            expect(found.rowPrice[i]! + found.columnPrice[j]!).toBeLessThanOrEqual(value),
          ),
        );
        const priced = [...found.rowPrice, ...found.columnPrice].reduce((sum, price) => sum + price, 0);
        expect(priced).toBe(least);
      }),
      { numRuns: 1000 },
    );
  });
});
