import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  mostCost,
  orderingProblem,
  type SequentialOrdering,
} from '../../src/algorithms/sequential-ordering.js';
import { beam } from '../../src/algorithms/solvers/beam.js';
import { bestFirst } from '../../src/algorithms/solvers/best-first.js';
import { combined } from '../../src/algorithms/solvers/combined.js';
import { setProgramming } from '../../src/algorithms/solvers/set-programming.js';
import type { Solver, SolverReport } from '../../src/algorithms/solvers/solver.js';
import { Budget } from '../../src/base/budget.js';
import { along, bestKnown, judge, published, publishedOrdering } from './ordering-checks.js';
import { allOrders, randomOrdering } from './small-orderings.js';

const solve = (solver: Solver, instance: SequentialOrdering, steps = 1e6): SolverReport =>
  solver(orderingProblem(instance), { budget: new Budget({ steps }), memory: 2 ** 26, seed: 1 });

/** Sharpening takes time that steps do not count, so only what is quick. */
const QUICK = ['ESC07', 'ESC11', 'ESC12', 'ESC25', 'br17.10', 'br17.12', 'rbg109a'];

describe('published sequential ordering instances', () => {
  it
    .skipIf(!published)
    .each([
      ...QUICK.map((name) => ['sop-tsplib', name] as const),
      ['sop-soplib', 'R.200.100.60'] as const,
      ['sop-soplib', 'R.200.1000.60'] as const,
    ])('%s: proves the best-known value of %s', { timeout: 60_000 }, (folder, name) => {
    const read = publishedOrdering(folder, name);
    const report = solve(combined, read, 150_000);
    const known = bestKnown(folder, name);
    expect(known).toBeGreaterThan(0);
    expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [known] }, bound: [known] });
    expect(judge(read, report.best!.steps)).toEqual({ legal: true, sum: known });
  });

  it.skipIf(!published).each(['ESC63', 'ESC78', 'rbg048a', 'ry48p.4', 'ft53.1', 'ft53.4', 'p43.1', 'ft70.1'])(
    'never claims a bound above the best-known value of %s',
    { timeout: 60_000 },
    (name) => {
      const read = publishedOrdering('sop-tsplib', name);
      const known = bestKnown('sop-tsplib', name);
      const report = solve(combined, read, 20_000);
      expect(report.bound[0]).toBeLessThanOrEqual(known);
      expect(report.best!.cost[0]).toBeGreaterThanOrEqual(known);
      expect(judge(read, report.best!.steps)).toEqual({ legal: true, sum: report.best!.cost[0] });
      const problem = orderingProblem(read);
      for (let round = 0; round < 3; round += 1) problem.sharpen!([known + 1]);
      const bound = new Float64Array(1);
      const state = new Uint32Array(problem.words);
      problem.start(state);
      problem.bound(state, 0, bound);
      expect(bound[0]).toBeLessThanOrEqual(known);
    },
  );
});

const small = fc
  .record({
    seed: fc.integer(),
    n: fc.integer({ min: 2, max: 8 }),
    density: fc.double({ min: 0, max: 0.7 }),
  })
  .map(({ seed, n, density }) => randomOrdering(seed, n, density));

describe('orderingProblem', () => {
  it.each([
    ['beam', beam],
    ['best-first', bestFirst],
    ['set-programming', setProgramming],
    ['combined', combined],
  ] as const)('agrees with listing every order, by %s', (_, solver) => {
    fc.assert(
      fc.property(small, (read) => {
        const least = Math.min(...allOrders(read).map(({ cost }) => cost));
        const report = solve(solver, read);
        expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [least] }, bound: [least] });
        expect(judge(read, report.best!.steps)).toEqual({ legal: true, sum: least });
      }),
      { numRuns: 250 },
    );
  });

  it('offers every legal move and never bounds above the way on, along any order', () => {
    fc.assert(
      fc.property(small, (read) => {
        const problem = orderingProblem(read);
        for (const { order, cost } of allOrders(read).slice(0, 200))
          for (const { offered, bound, spent } of along(problem, order)) {
            expect(offered).toBe(true);
            expect(spent + bound).toBeLessThanOrEqual(cost);
          }
      }),
      { numRuns: 200 },
    );
  });

  it('keeps every order cheaper than the cutoff, however often it is sharpened', () => {
    fc.assert(
      fc.property(small, fc.integer({ min: 0, max: 40 }), (read, above) => {
        const orders = allOrders(read);
        const cutoff = Math.min(...orders.map(({ cost }) => cost)) + above;
        const problem = orderingProblem(read);
        for (let round = 0; round < 4; round += 1) {
          problem.sharpen!([cutoff]);
          for (const { order, cost } of orders.filter((one) => one.cost < cutoff).slice(0, 60))
            for (const { offered, bound, spent } of along(problem, order)) {
              expect(offered).toBe(true);
              expect(spent + bound).toBeLessThanOrEqual(cost);
            }
        }
      }),
      { numRuns: 200 },
    );
  });

  it('counts the largest costs exactly, also when it is sharpened', () => {
    fc.assert(
      fc.property(small, fc.double({ min: 0.5, max: 1, noNaN: true }), (read, share) => {
        const large = withLargeCosts(read, share);
        const orders = allOrders(large);
        const least = Math.min(...orders.map(({ cost }) => cost));
        const best = orders.find(({ cost }) => cost === least)!;
        const problem = orderingProblem(large);
        for (let round = 0; round < 4; round += 1) {
          for (const { offered, bound, spent } of along(problem, best.order)) {
            expect(offered).toBe(true);
            expect(spent + bound).toBeLessThanOrEqual(least);
          }
          problem.sharpen!([least + 1]);
        }
        expect(solve(combined, large)).toMatchObject({ outcome: 'optimal', bound: [least] });
      }),
      { numRuns: 200 },
    );
  });

  it('refuses costs that may add up to more than can be counted, but where they say nothing', () => {
    const most = mostCost(3);
    const sized = (cost: number, idle: number): SequentialOrdering => ({
      cost: [
        [idle, 1, 1],
        [idle, idle, cost],
        [idle, idle, idle],
      ],
    });
    expect(solve(combined, sized(most, 2 ** 60))).toMatchObject({ outcome: 'optimal', bound: [1 + most] });
    expect(() => orderingProblem(sized(most + 1, 0))).toThrow(RangeError);
  });

  it('bounds no lower after it is sharpened, and meets the least cost where all others go', () => {
    const read = randomOrdering(5, 8, 0.3);
    const least = Math.min(...allOrders(read).map(({ cost }) => cost));
    const problem = orderingProblem(read);
    const start = new Uint32Array(problem.words);
    const bound = new Float64Array(1);
    problem.start(start);
    let before = -1;
    for (let round = 0; round < 12; round += 1) {
      problem.bound(start, 0, bound);
      expect(bound[0]).toBeGreaterThanOrEqual(before);
      before = bound[0]!;
      problem.sharpen!([least + 1]);
    }
    expect(before).toBe(least);
  });

  it('goes on from another last node at no more than the surcharge besides', () => {
    fc.assert(
      fc.property(small, (read) => {
        const problem = orderingProblem(read);
        const row = new Float64Array(1);
        for (const states of waysOn(read).values())
          for (const a of states.values())
            for (const b of states.values()) {
              problem.dominance!.surcharge(a.state, b.state, row);
              expect(a.least).toBeLessThanOrEqual(b.least + row[0]!);
            }
      }),
      { numRuns: 60 },
    );
  });

  it('proves that a circle of precedences has no order', () => {
    const cost = [
      [0, 1, 1, 1],
      [1, 0, -1, 1],
      [1, -1, 0, 1],
      [1, 1, 1, 0],
    ];
    for (const solver of [beam, combined])
      expect(solve(solver, { cost }, 100)).toMatchObject({ outcome: 'impossible', bound: [Infinity] });
  });

  it('expands more without its bound', () => {
    const read = randomOrdering(3, 11, 0.2);
    const blind = { ...orderingProblem(read), bound: zero, sharpen: (): void => undefined };
    const options = { budget: new Budget({ steps: 1e6 }), memory: 2 ** 26, seed: 1 };
    const [led, unled] = [solve(beam, read), beam(blind, options)];
    expect(led.best?.cost).toEqual(unled.best?.cost);
    expect(unled.counters.expanded).toBeGreaterThan(led.counters.expanded);
  });

  it('gives the same answer twice', () => {
    const read = randomOrdering(9, 14, 0.2);
    expect(solve(combined, read, 3000)).toEqual(solve(combined, read, 3000));
  });
});

/** Costs from 0 to 20, some of them in place of them near a share of the most. */
function withLargeCosts({ cost }: SequentialOrdering, share: number): SequentialOrdering {
  const most = Math.floor(share * mostCost(cost.length));
  return { cost: cost.map((row) => row.map((one) => (one > 0 && one % 3 === 0 ? most - one : one))) };
}

/** Of every set of nodes that orders begin with, by the last node of them: the state and the least cost of going on. */
function waysOn(read: SequentialOrdering): Map<string, Map<number, { state: Uint32Array; least: number }>> {
  const problem = orderingProblem(read);
  const sets = new Map<string, Map<number, { state: Uint32Array; least: number }>>();
  for (const { order, cost } of allOrders(read)) {
    let state = new Uint32Array(problem.words);
    const row = new Float64Array(1);
    problem.start(state);
    let spent = 0;
    order.slice(1).forEach((node, at) => {
      const after = new Uint32Array(problem.words);
      problem.follow(state, node - 1, after, row);
      [state, spent] = [after, spent + row[0]!];
      const key = [...order.slice(0, at + 2)].sort((a, b) => a - b).join();
      const states = sets.get(key) ?? new Map<number, { state: Uint32Array; least: number }>();
      const least = Math.min(states.get(node)?.least ?? Infinity, cost - spent);
      sets.set(key, states.set(node, { state, least }));
    });
  }
  return sets;
}

const zero = (_state: Uint32Array, _layer: number, into: Float64Array): void => void into.fill(0);
