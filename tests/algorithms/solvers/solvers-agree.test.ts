import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost } from '../../../src/algorithms/cost.js';
import { beam } from '../../../src/algorithms/solvers/beam.js';
import { bestFirst } from '../../../src/algorithms/solvers/best-first.js';
import { setProgramming } from '../../../src/algorithms/solvers/set-programming.js';
import type { SolverOptions, SolverReport } from '../../../src/algorithms/solvers/solver.js';
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

const EXACT = { beam, bestFirst, setProgramming };
const PLAIN = { perWord: 32, bound: 'none', dominance: false, sharpens: false } as const;

const options = (steps = 1_000_000, memory = 1e8): SolverOptions => ({
  budget: new Budget({ steps }),
  memory,
  seed: 1,
});

const legal = (order: SmallOrder, report: SolverReport): boolean =>
  allPaths(order).some(
    ({ moves, cost }) =>
      moves.join() === report.best?.steps.join() && compareCost(cost, report.best.cost) === 0,
  );

describe.each(Object.entries(EXACT))('%s', (_, solver) => {
  it('agrees with the listing of all paths on outcome, cost and bound', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, (order, packing) => {
        const least = leastCost(allPaths(order).map(({ cost }) => cost));
        const report = solver(packed(order, packing), options());
        expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
        expect(report.best?.cost).toEqual(least);
        expect(report.bound).toEqual(least ?? new Array(order.terms).fill(Infinity));
        expect(report.provedTerms).toBe(least === undefined ? 0 : order.terms);
        if (least !== undefined) expect(legal(order, report)).toBe(true);
      }),
      { numRuns: 500, seed: 11 },
    );
  });

  it('never claims too much, whatever ends it', () => {
    const limits = fc.record({
      steps: fc.integer({ min: 0, max: 80 }),
      memory: fc.constantFrom(0, 5000, 20_000, 1e7),
    });
    fc.assert(
      fc.property(anyOrder, anyPacking, limits, (order, packing, { steps, memory }) => {
        const least = leastCost(allPaths(order).map(({ cost }) => cost));
        const report = solver(packed(order, packing), options(steps, memory));
        const { best, bound, outcome, counters } = report;
        if (least === undefined) expect(['impossible', 'none-in-budget']).toContain(outcome);
        else {
          expect(compareCost(bound, least)).toBeLessThanOrEqual(0);
          expect(outcome).not.toBe('impossible');
          if (outcome === 'optimal') expect(best?.cost).toEqual(least);
          if (best !== undefined) expect(legal(order, report)).toBe(true);
        }
        const equal = best?.cost.findIndex((term, i) => term !== bound[i]);
        expect(report.provedTerms).toBe(best === undefined ? 0 : equal === -1 ? order.terms : equal);
        expect(counters.expanded).toBeLessThanOrEqual(steps);
        expect(outcome === 'optimal').toBe(best !== undefined && compareCost(best.cost, bound) === 0);
      }),
      { numRuns: 500, seed: 12 },
    );
  });

  it('ends with a true bound when the memory alone is short', () => {
    let dropped = 0;
    for (let seed = 0; seed < 60; seed += 1) {
      const order = randomOrder({ seed, items: 8, terms: 2, density: 0.1, forbidden: 0, dependent: true });
      const least = solver(packed(order, PLAIN), options()).bound;
      const report = solver(packed(order, PLAIN), options(1_000_000, 0));
      dropped += report.counters.dropped;
      expect(compareCost(report.bound, least)).toBeLessThanOrEqual(0);
      expect(report.best).toBeDefined();
    }
    expect(dropped).toBeGreaterThan(1000);
  });

  it('is never worse than the known path, and says so at the first step', () => {
    fc.assert(
      fc.property(anyOrder, anyPacking, fc.nat(), fc.nat(60), (order, packing, pick, steps) => {
        const paths = allPaths(order);
        if (paths.length === 0) return;
        const known = paths[pick % paths.length]!;
        const seen: unknown[] = [];
        const report = solver(packed(order, packing), {
          ...options(steps),
          known: known.moves,
          onImprovement: ({ cost }) => seen.push(cost),
        });
        expect(compareCost(report.best!.cost, known.cost)).toBeLessThanOrEqual(0);
        expect(report.improvements[0]).toEqual({ step: 0, cost: known.cost });
        expect(report.improvements.map(({ cost }) => cost)).toEqual(seen);
        expect(legal(order, report)).toBe(true);
      }),
      { numRuns: 200, seed: 13 },
    );
  });

  it('gives the same report twice', () => {
    fc.assert(
      fc.property(
        anyOrder,
        anyPacking,
        fc.nat(80),
        fc.constantFrom(0, 1e7),
        (order, packing, steps, memory) => {
          const once = (): string => JSON.stringify(solver(packed(order, packing), options(steps, memory)));
          expect(once()).toBe(once());
        },
      ),
      { numRuns: 200, seed: 14 },
    );
  });

  it('stops when it is asked to', () => {
    let asked = 0;
    const order = randomOrder({ seed: 3, items: 8, terms: 1, density: 0, forbidden: 0, dependent: true });
    const budget = new Budget({ steps: 1e6, stopRequested: () => (asked += 1) > 5 });
    const report = solver(packed(order, PLAIN), { ...options(), budget });
    expect(report.outcome).toBe('none-in-budget');
    expect(report.counters.expanded).toBeLessThanOrEqual(5);
  });

  it('tells of its progress with a bound that rises and never passes the best', () => {
    const order = randomOrder({ seed: 5, items: 8, terms: 3, density: 0, forbidden: 0, dependent: true });
    const bounds: number[] = [];
    solver(packed(order, PLAIN), {
      ...options(),
      onProgress: ({ best, bound }) => {
        bounds.push(bound[0]!);
        if (best !== undefined) expect(compareCost(bound, best)).toBeLessThanOrEqual(0);
      },
    });
    expect(bounds.length).toBeGreaterThan(1);
    expect(bounds).toEqual([...bounds].sort((a, b) => a - b));
  });
});

describe('what saves work', () => {
  const order = randomOrder({ seed: 8, items: 8, terms: 2, density: 0.1, forbidden: 0, dependent: true });
  const expanded = (changed: object): number =>
    bestFirst(packed(order, { ...PLAIN, ...changed }), options()).counters.expanded;

  it('is a bound, the more the closer it is', () => {
    const counts = (['none', 'half', 'first-term', 'exact'] as const).map((bound) => expanded({ bound }));
    expect(counts).toEqual([...counts].sort((a, b) => b - a));
    expect(counts[3]).toBe(order.items);
  });

  it('is dominance', () => {
    expect(expanded({ dominance: true })).toBeLessThan(expanded({}));
  });

  it('is that no state is expanded twice, where the cheapest way to a state comes first', () => {
    const problem = packed(order, PLAIN);
    const seen: string[] = [];
    const watched = {
      ...problem,
      movesFrom: (state: Uint32Array, into: Int32Array): number => {
        seen.push(state.subarray(0, problem.keyWords).join());
        return problem.movesFrom(state, into);
      },
    };
    const known = allPaths(order)[0]!.moves;
    const report = bestFirst(watched, { ...options(), known });
    expect(new Set(seen).size).toBe(seen.length);
    expect(report.counters.expanded).toBe(seen.length);
    expect(report.counters.dominated).toBeGreaterThan(100);
  });

  it('is what sharpening removes', () => {
    const steps = (sharpens: boolean): number =>
      beam(packed(order, { ...PLAIN, bound: 'half', sharpens }), options()).counters.expanded;
    expect(steps(true)).toBeLessThan(steps(false));
  });
});
