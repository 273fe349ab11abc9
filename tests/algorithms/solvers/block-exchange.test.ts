import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SequentialOrdering } from '../../../src/algorithms/sequential-ordering.js';
import { BlockExchange } from '../../../src/algorithms/solvers/block-exchange.js';
import { greedy } from '../../../src/algorithms/solvers/greedy.js';
import { IteratedExchange } from '../../../src/algorithms/solvers/iterated-exchange.js';
import { largeNeighbourhood } from '../../../src/algorithms/solvers/large-neighbourhood.js';
import { SequenceOrder } from '../../../src/algorithms/solvers/sequence-order.js';
import type { SolverPath } from '../../../src/algorithms/solvers/solver.js';
import { Budget } from '../../../src/base/budget.js';
import { seededRandom } from '../../../src/base/random.js';
import { allOrders, randomOrdering } from '../small-orderings.js';
import { smallSequence } from './small-sequences.js';

const options = (steps = 1e6, seed = 1) => ({ budget: new Budget({ steps }), memory: 1e7, seed });

const small = fc
  .record({
    seed: fc.integer(),
    n: fc.integer({ min: 3, max: 12 }),
    density: fc.double({ min: 0, max: 0.6, noNaN: true }),
  })
  .map(({ seed, n, density }) => randomOrdering(seed, n, density));

function greedyOrder(read: SequentialOrdering): SequenceOrder {
  const problem = smallSequence(read);
  return new SequenceOrder(greedy(problem, options()).best!.steps, problem.sequence);
}

/** Straight from the matrix. */
function expectLegal({ cost }: SequentialOrdering, steps: readonly number[], sum: number): void {
  const order = [0, ...steps];
  expect(new Set(order).size).toBe(cost.length);
  for (const [at, node] of order.entries())
    expect(cost[node]!.every((arc, j) => arc !== -1 || order.indexOf(j) < at)).toBe(true);
  expect(order.at(-1)).toBe(cost.length - 1);
  expect(steps.reduce((total, node, at) => total + cost[order[at]!]![node]!, 0)).toBe(sum);
}

describe('where no exchange is legal', () => {
  it('every round still takes a step, so that a budget of steps ends', () => {
    const never = -1;
    const chain = {
      cost: [0, 1, 2, 3].map((a) => [0, 1, 2, 3].map((b) => (b < a ? never : b - a))),
    };
    const budget = new Budget({ steps: 100 });
    const search = new IteratedExchange(greedyOrder(chain), seededRandom(1));
    for (let call = 0; call < 20; call += 1) search.run(budget, 10);
    expect(budget.exhaustedBy()).toBe('steps');
  });
});

describe('exchanging blocks', () => {
  it('ends where no exchange of any two adjacent blocks helps, its order legal and its cost right', () => {
    fc.assert(
      fc.property(small, (read) => {
        const sequence = greedyOrder(read);
        const before = sequence.cost;
        const exchange = new BlockExchange(sequence);
        exchange.lookAtAll();
        expect(exchange.descend(new Budget({ steps: 1e6 }))).toBe(true);
        expectLegal(read, sequence.itemsOf(sequence.order), sequence.cost);
        expect(sequence.cost).toBeLessThanOrEqual(before);
        const { count } = sequence;
        for (let i = 1; i < count; i += 1)
          for (let j = i; j < count; j += 1)
            for (let k = j + 1; k <= count; k += 1)
              if (sequence.mayExchange(i, j, k)) expect(sequence.change(i, j, k)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 200, seed: 41 },
    );
  });

  it('stops with the budget, wherever that is, with a legal order', () => {
    fc.assert(
      fc.property(small, fc.nat(300), fc.nat(9), (read, steps, seed) => {
        const sequence = greedyOrder(read);
        const search = new IteratedExchange(sequence, seededRandom(seed));
        search.run(new Budget({ steps }), 50);
        expectLegal(read, sequence.itemsOf(search.bestOrder), search.bestCost);
      }),
      { numRuns: 200, seed: 42 },
    );
  });

  it('finds the least cost of small problems in a few rounds', () => {
    let least = 0;
    for (let seed = 0; seed < 40; seed += 1) {
      const read = randomOrdering(seed, 8, 0.2);
      const search = new IteratedExchange(greedyOrder(read), seededRandom(seed));
      search.run(new Budget({ steps: 1e6 }), 200);
      if (search.bestCost === Math.min(...allOrders(read).map(({ cost }) => cost))) least += 1;
    }
    expect(least).toBe(40);
  });
});

describe('large-neighbourhood search with the costs of arcs', () => {
  it('proves the least cost of small problems', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 2, max: 8 }), fc.nat(9), (seed, n, draw) => {
        const read = randomOrdering(seed, n, 0.3);
        const report = largeNeighbourhood(smallSequence(read), options(1e6, draw));
        expect(report.outcome).toBe('optimal');
        expect(report.best!.cost).toEqual([Math.min(...allOrders(read).map(({ cost }) => cost))]);
        expectLegal(read, report.best!.steps, report.best!.cost[0]!);
      }),
      { numRuns: 100, seed: 43 },
    );
  });

  it('is repeatable, differs by seed, and gets no worse with more steps', () => {
    const read = randomOrdering(7, 30, 0.1);
    const problem = smallSequence(read);
    const best = (steps: number, seed: number): SolverPath =>
      largeNeighbourhood(problem, options(steps, seed)).best!;
    const run = (steps: number, seed: number): readonly number[] => best(steps, seed).steps;
    expect(run(20_000, 1)).toEqual(run(20_000, 1));
    expect(run(400, 1)).not.toEqual(run(400, 2));
    const costs = [100, 1000, 10_000, 50_000].map((steps) => best(steps, 1).cost[0]!);
    expect(costs).toEqual([...costs].sort((a, b) => b - a));
    expect(costs.at(-1)).toBeLessThan(costs[0]!);
  });
});
