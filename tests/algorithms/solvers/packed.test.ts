import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unreachableCost } from '../../../src/algorithms/cost.js';
import { packed } from '../../../src/algorithms/solvers/packed.js';
import { SOLVERS, type SolverEntry } from '../../../src/algorithms/solvers/solvers.js';
import { Budget } from '../../../src/base/budget.js';
import { allPaths, graphProblem, leastCost, looseBound, randomGraph } from '../small-problems.js';

const numbers = {
  items: 1,
  moves: 64,
  moveOf: (step: string) => Number(step.split('-')[0]) * 8 + Number(step.split('-')[1]),
  itemOf: () => 0,
};

describe('a problem with object states, packed', () => {
  const proving = Object.entries<SolverEntry>(SOLVERS).filter(([name, { proves }]) => {
    // Items are freed by name, and the steps of a layered graph do no items.
    return proves && name !== 'large-neighbourhood';
  });

  it.each(proving)('has the least cost that the listing has, by %s', (_, { solve }) => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 1, max: 3 }),
        (seed, layers, terms) => {
          const graph = randomGraph(seed, { layers, width: 4, terms });
          const least = leastCost(allPaths(graph).map(({ cost }) => cost));
          const problem = packed(graphProblem(graph, { bound: looseBound(graph) }), numbers);
          const report = solve(problem, { budget: new Budget({ steps: 1e5 }), memory: 1e7, seed: 1 });
          expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
          expect(report.bound).toEqual(least ?? unreachableCost(terms));
        },
      ),
      { numRuns: 100, seed: 51 },
    );
  });

  it('cannot judge whole paths, and says so', () => {
    const complete = () => ({ kind: 'refused', depth: 0, reason: 'none' }) as const;
    const judged = graphProblem(randomGraph(1, { layers: 2, width: 2, terms: 1 }), { complete });
    expect(() => packed(judged, numbers)).toThrow('cannot judge whole paths');
  });

  it('refuses two steps with one number', () => {
    const moves = [
      [
        [
          { to: 0, cost: [1] },
          { to: 0, cost: [2] },
        ],
      ],
    ];
    const problem = packed(graphProblem({ layers: 1, width: 1, terms: 1, moves }), {
      ...numbers,
      moveOf: () => 0,
    });
    const state = new Uint32Array(1);
    problem.start(state);
    expect(() => problem.movesFrom(state, new Int32Array(64))).toThrow('the number 0');
  });
});
