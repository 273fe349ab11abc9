import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DisjunctiveProblem } from '../../src/algorithms/disjunctive-problem.js';
import { leastMakespan } from '../../src/algorithms/disjunctive.js';
import { Budget } from '../../src/base/budget.js';
import { faultsOf, leastByListing, randomChains, randomJobShop } from './small-disjunctive.js';

const solve = (problem: DisjunctiveProblem, steps = 1e6, upper?: number) =>
  leastMakespan(problem, { budget: new Budget({ steps }), ...(upper !== undefined && { upper }) });

function agreesWithListing(problem: DisjunctiveProblem): void {
  const least = leastByListing(problem);
  const report = solve(problem);
  if (least === Infinity) {
    expect(report).toMatchObject({ outcome: 'impossible', bound: Infinity });
    return;
  }
  expect(report).toMatchObject({ outcome: 'optimal', best: { makespan: least }, bound: least });
  expect(faultsOf(problem, report.best!)).toEqual([]);
}

describe('leastMakespan', () => {
  it('agrees with listing every order of small job-shops with transport and set-up times', () => {
    const shape = fc.record({
      jobs: fc.integer({ min: 1, max: 4 }),
      machines: fc.integer({ min: 1, max: 3 }),
      transport: fc.integer({ min: 0, max: 6 }),
      setups: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.integer(), shape, (seed, small) => {
        fc.pre(small.jobs < 4 || small.machines < 3);
        agreesWithListing(randomJobShop(seed, small));
      }),
      { numRuns: 200 },
    );
  });

  it('agrees with listing every order where spans are stretches of chains', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => agreesWithListing(randomChains(seed))),
      { numRuns: 2000 },
    );
  });
});
