import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost } from '../../../src/algorithms/cost.js';
import { combined } from '../../../src/algorithms/solvers/combined.js';
import { Budget } from '../../../src/base/budget.js';
import { allPaths, anyOrder, anyPacking, leastCost, packed } from './small-problems.js';

describe('combined', () => {
  it('agrees with the listing of all paths on outcome, cost and bound', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, (order, packing) => {
        const least = leastCost(allPaths(order).map(({ cost }) => cost));
        const options = { budget: new Budget({ steps: 1e6 }), memory: 1e8, seed: 1 };
        const report = combined(packed(order, packing), options);
        expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
        if (least !== undefined) expect([report.best!.cost, report.bound]).toEqual([least, least]);
      }),
      { numRuns: 300 },
    );
  });

  it('keeps to its steps, and its bound holds when they end', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, fc.integer({ min: 0, max: 30 }), (order, packing, steps) => {
        const least = leastCost(allPaths(order).map(({ cost }) => cost));
        const budget = new Budget({ steps });
        const report = combined(packed(order, packing), { budget, memory: 1e8, seed: 1 });
        expect(budget.steps).toBeLessThanOrEqual(steps);
        if (least === undefined) return;
        expect(report.outcome).not.toBe('impossible');
        expect(compareCost(report.bound, least)).toBeLessThanOrEqual(0);
        if (report.best !== undefined) expect(compareCost(report.best.cost, least)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 300 },
    );
  });
});
