import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost } from '../../../src/algorithms/cost.js';
import type { SolverOptions, SolverReport } from '../../../src/algorithms/solvers/solver.js';
import { SOLVERS, type SolverEntry } from '../../../src/algorithms/solvers/solvers.js';
import { Budget } from '../../../src/base/budget.js';
import {
  allPaths,
  anyOrder,
  anyPacking,
  leastCost,
  packed,
  randomOrder,
  type SmallOrder,
} from './small-problems.js';

const LOCAL = ['depth-first', 'greedy', 'large-neighbourhood', 'random-restarts'] as const;
const PLAIN = { perWord: 32, bound: 'none', dominance: false, sharpens: false } as const;

const options = (steps: number, memory = 1e7, seed = 1): SolverOptions => ({
  budget: new Budget({ steps }),
  memory,
  seed,
});

const legal = (order: SmallOrder, report: SolverReport): boolean =>
  allPaths(order).some(
    ({ moves, cost }) =>
      moves.join() === report.best?.steps.join() && compareCost(cost, report.best.cost) === 0,
  );

/** Neither more than is true nor less than was found. */
function expectTrue(order: SmallOrder, report: SolverReport): void {
  const least = leastCost(allPaths(order).map(({ cost }) => cost));
  const { best, bound, outcome } = report;
  if (least === undefined) return expect(['impossible', 'none-in-budget']).toContain(outcome);
  expect(outcome).not.toBe('impossible');
  expect(compareCost(bound, least)).toBeLessThanOrEqual(0);
  if (best !== undefined) expect(legal(order, report)).toBe(true);
  expect(outcome === 'optimal').toBe(best !== undefined && compareCost(best.cost, bound) === 0);
  if (outcome === 'optimal') expect(best?.cost).toEqual(least);
}

describe.each(Object.entries<SolverEntry>(SOLVERS).filter(([, { proves }]) => proves))(
  '%s',
  (_, { solve }) => {
    it('agrees with the listing of all paths, and so with every other that proves', () => {
      fc.assert(
        fc.property(anyOrder, anyPacking, (order, packing) => {
          const least = leastCost(allPaths(order).map(({ cost }) => cost));
          const report = solve(packed(order, packing), options(300_000));
          expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
          expect(report.best?.cost).toEqual(least);
          expectTrue(order, report);
        }),
        { numRuns: 200, seed: 21 },
      );
    });
  },
);

describe.each(Object.entries<SolverEntry>(SOLVERS))('%s', (_, { solve }) => {
  it('takes memory without a limit', () => {
    const order = randomOrder({ seed: 3, items: 6, terms: 2, density: 0.1, forbidden: 0, dependent: true });
    expectTrue(order, solve(packed(order, PLAIN), options(500, Infinity)));
  });
});

describe.each(LOCAL)('%s', (name) => {
  const { solve } = SOLVERS[name];

  it('never claims too much, whatever ends it', () => {
    const limits = fc.record({
      steps: fc.integer({ min: 0, max: 80 }),
      memory: fc.constantFrom(0, 1000, 5000, 1e7),
    });
    fc.assert(
      fc.property(anyOrder, anyPacking, limits, (order, packing, { steps, memory }) => {
        const report = solve(packed(order, packing), options(steps, memory));
        expectTrue(order, report);
        expect(report.counters.expanded).toBeLessThanOrEqual(steps);
      }),
      { numRuns: 400, seed: 22 },
    );
  });

  it('is true when the memory alone is short', () => {
    for (let seed = 0; seed < 20; seed += 1) {
      const order = randomOrder({ seed, items: 6, terms: 2, density: 0.1, forbidden: 0.2, dependent: true });
      for (const memory of [0, 300, 3000])
        expectTrue(order, solve(packed(order, PLAIN), options(3000, memory)));
    }
  });

  it('is never worse than the known path, and says so at the first step', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, fc.nat(), fc.nat(300), (order, packing, pick, steps) => {
        const paths = allPaths(order);
        if (paths.length === 0) return;
        const known = paths[pick % paths.length]!;
        const seen: unknown[] = [];
        const onImprovement = ({ cost }: { cost: unknown }): number => seen.push(cost);
        const report = solve(packed(order, packing), {
          ...options(steps),
          known: known.moves,
          onImprovement,
        });
        expect(compareCost(report.best!.cost, known.cost)).toBeLessThanOrEqual(0);
        expect(report.improvements[0]).toEqual({ step: 0, cost: known.cost });
        expect(report.improvements.map(({ cost }) => cost)).toEqual(seen);
        expectTrue(order, report);
      }),
      { numRuns: 200, seed: 23 },
    );
  });

  it('gives the same report twice', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, fc.nat(200), fc.nat(9), (order, packing, steps, seed) => {
        const once = (): string => JSON.stringify(solve(packed(order, packing), options(steps, 1e5, seed)));
        expect(once()).toBe(once());
      }),
      { numRuns: 150, seed: 24 },
    );
  });

  it('stops when it is asked to', () => {
    let asked = 0;
    const order = randomOrder({ seed: 3, items: 8, terms: 1, density: 0, forbidden: 0, dependent: true });
    const budget = new Budget({ steps: 1e6, stopRequested: () => (asked += 1) > 5 });
    expect(solve(packed(order, PLAIN), { ...options(0), budget }).counters.expanded).toBeLessThanOrEqual(5);
  });
});

describe('the baselines', () => {
  const order = randomOrder({ seed: 8, items: 8, terms: 2, density: 0.1, forbidden: 0.3, dependent: true });

  it('greedy looks at one state a layer where there is no dead end', () => {
    const free = randomOrder({ seed: 8, items: 8, terms: 2, density: 0.1, forbidden: 0, dependent: true });
    const report = SOLVERS.greedy.solve(packed(free, PLAIN), options(1000));
    expect(report.counters.expanded).toBe(8);
    expect(report.best!.steps.map((move) => free.itemOf[move]).sort()).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
  });

  it('greedy backs up from dead ends until there is a path', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, (small, packing) => {
        const report = SOLVERS.greedy.solve(packed(small, packing), options(100_000));
        expect(report.best === undefined).toBe(allPaths(small).length === 0);
      }),
      { numRuns: 200, seed: 25 },
    );
  });

  it('random restarts differ by seed and get better', () => {
    const run = (steps: number, seed: number): SolverReport =>
      SOLVERS['random-restarts'].solve(packed(order, PLAIN), options(steps, 1e7, seed));
    expect(new Set([1, 2, 3, 4, 5].map((seed) => run(40, seed).best?.steps.join())).size).toBeGreaterThan(1);
    const few = SOLVERS.greedy.solve(packed(order, PLAIN), options(1000));
    expect(compareCost(run(5000, 1).best!.cost, few.best!.cost)).toBeLessThanOrEqual(0);
  });
});
