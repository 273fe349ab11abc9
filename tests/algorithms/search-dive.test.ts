import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost, type Cost } from '../../src/algorithms/cost.js';
import type { SearchProblem } from '../../src/algorithms/problem.js';
import { search } from '../../src/algorithms/search.js';
import { Budget } from '../../src/base/budget.js';
import {
  allPaths,
  fullGraph,
  graphProblem,
  harshJudge,
  knownOf,
  leastCost,
  looseBound,
  randomGraph,
  withCandidates,
} from './small-problems.js';

const plenty = (): Budget => new Budget({ steps: 1_000_000 });

const anyCase = fc
  .record({
    seed: fc.integer(),
    layers: fc.integer({ min: 0, max: 6 }),
    width: fc.integer({ min: 1, max: 5 }),
    terms: fc.integer({ min: 1, max: 3 }),
    refuse: fc.constantFrom(0, 0.05, 0.2, 0.4, 0.7),
    surcharge: fc.constantFrom(0, 0.3, 0.9),
    bounded: fc.boolean(),
    judged: fc.boolean(),
    telling: fc.boolean(),
  })
  .map(({ seed, judged, bounded, telling, ...shape }) => {
    const graph = randomGraph(seed, shape);
    const paths = allPaths(graph);
    const costs = new Map(paths.map((path) => [path.steps.join(' '), path.cost]));
    const complete = harshJudge(seed + 7, shape, (steps) => costs.get(steps.join(' ')) ?? [0]);
    const legal = paths.flatMap(({ steps, cost }): Cost[] => {
      if (!judged) return [cost];
      const said = complete(steps);
      return said.kind === 'legal' ? [said.cost] : [];
    });
    const plain = graphProblem(graph, {
      ...(judged && { complete }),
      ...(bounded && { bound: looseBound(graph) }),
    });
    const known = judged && telling ? { refusedAlready: knownOf(complete) } : {};
    const problem = { ...withCandidates(plain, graph, seed), ...known };
    return { graph, problem, complete, least: leastCost(legal) };
  });

describe('a search that dives', () => {
  it('finds the optimum of every small problem, and says impossible exactly when no path is legal', () => {
    fc.assert(
      fc.property(anyCase, ({ problem, least }) => {
        const report = search(problem, { budget: plenty(), dive: true });
        expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
        expect(report.best?.cost).toEqual(least);
        if (least !== undefined) expect(report.bound).toEqual(least);
      }),
      { numRuns: 3000 },
    );
  });

  it('reports a true bound whenever the budget or the memory ends early', () => {
    const limits = fc.record({
      steps: fc.integer({ min: 0, max: 40 }),
      maxNodes: fc.constantFrom(1, 3, 10, 100),
    });
    fc.assert(
      fc.property(anyCase, limits, ({ problem, least }, { steps, maxNodes }) => {
        const budget = new Budget({ steps });
        const { best, bound, outcome, counters } = search(problem, { budget, maxNodes, dive: true });
        if (least === undefined) expect(['impossible', 'none-in-budget']).toContain(outcome);
        else {
          expect(compareCost(bound, least)).toBeLessThanOrEqual(0);
          expect(outcome).not.toBe('impossible');
          if (best !== undefined) expect(compareCost(best.cost, least)).toBeGreaterThanOrEqual(0);
          if (outcome === 'optimal') expect(best?.cost).toEqual(least);
        }
        expect(budget.steps).toBeLessThanOrEqual(steps);
        expect(counters.expanded).toBe(budget.steps);
      }),
      { numRuns: 3000 },
    );
  });

  it('never judges a path that begins with a refused one, nor one path twice', () => {
    fc.assert(
      fc.property(anyCase, ({ problem, complete }) => {
        const refused: string[] = [];
        const seen: string[] = [];
        const watched = (steps: readonly string[]) => {
          const text = `${steps.join(' ')} `;
          expect(refused.some((prefix) => text.startsWith(prefix))).toBe(false);
          expect(seen).not.toContain(text);
          seen.push(text);
          return complete(steps);
        };
        search(
          { ...problem, complete: watched },
          {
            budget: plenty(),
            dive: true,
            onRefusal: ({ steps, depth }) => refused.push(`${steps.slice(0, depth).join(' ')} `),
          },
        );
      }),
      { numRuns: 500 },
    );
  });

  it('gives the same report twice', () => {
    fc.assert(
      fc.property(anyCase, fc.integer({ min: 1, max: 60 }), ({ problem }, steps) => {
        const once = () => search(problem, { budget: new Budget({ steps }), dive: true });
        expect(once()).toEqual(once());
      }),
      { numRuns: 300 },
    );
  });

  it('asks as many candidates for the first path as it has steps, and leaves the bound true', () => {
    const wide = fullGraph(9, 5);
    const report = search(withCandidates(graphProblem(wide), wide, 1), {
      budget: new Budget({ steps: 18 }),
      dive: true,
    });
    expect(report.improvements[0]!.step).toBeLessThanOrEqual(18);
    expect(compareCost(report.bound, leastCost(allPaths(fullGraph(4, 5)).map(({ cost }) => cost))!)).toBe(-1);
  });

  it('stops between two candidates, and what it has not asked stays in the bound', () => {
    const graph = fullGraph(6, 4);
    let asked = 0;
    const problem = withCandidates(graphProblem(graph), graph, 1);
    const counted: typeof problem = {
      ...problem,
      candidates: (state) =>
        problem.candidates!(state).map((one) => ({
          ...one,
          moves: () => {
            asked += 1;
            return one.moves();
          },
        })),
    };
    const budget = new Budget({ steps: 1000, stopRequested: () => asked >= 2 });
    const report = search(counted, { budget });
    expect(asked).toBe(2);
    expect(report.outcome).toBe('none-in-budget');
    expect(report.bound).toEqual([0, 0]);
  });
});

/**
 * Things to be set one after the other, each legal as long as a thing that it must come before is not there: the deadlines
 * are met in one order of two and missed by diving in the order of their numbers.
 */
function setting(
  count: number,
  before: readonly (readonly [number, number])[],
): { readonly problem: SearchProblem<readonly number[], number>; readonly asked: () => number } {
  let asked = 0;
  const candidates = (state: readonly number[]) =>
    Array.from({ length: count }, (_, id) => id)
      .filter((id) => !state.includes(id))
      .map((id) => ({
        id,
        promise: [0],
        moves: () => {
          asked += 1;
          const late = before.some(([early, other]) => early === id && state.includes(other));
          return late ? [] : [{ to: [...state, id], step: id, cost: [0] }];
        },
      }));
  const problem: SearchProblem<readonly number[], number> = {
    terms: 1,
    start: [],
    layers: count,
    layer: (state) => state.length,
    key: (state) => [...state].sort((a, b) => a - b).join(),
    bound: () => [0],
    candidates,
    transitions: (state) => candidates(state).flatMap(({ moves }) => [...moves()]),
    complete: (steps) => ({ kind: 'legal', cost: [0], result: undefined, steps }) as const,
  };
  return { problem, asked: () => asked };
}

describe('a dive at a dead end', () => {
  it('goes back to where the thing that is stuck could still come, not through every order below', () => {
    const { problem, asked } = setting(40, [[39, 3]]);
    const report = search(problem, { budget: new Budget({ steps: 200 }), dive: true });
    expect(report.outcome).toBe('optimal');
    // 39 things and once more what is stuck; where it could come, in 39 states by bisection; the 36 others again.
    expect(asked()).toBeLessThanOrEqual(39 + 1 + 6 + 37);
    expect(report.best!.steps.indexOf(39)).toBeLessThan(report.best!.steps.indexOf(3));
  });

  it('gets by several of them', () => {
    const before = [
      [39, 3],
      [38, 20],
      [37, 3],
      [36, 39],
      [5, 4],
    ] as const;
    const { problem, asked } = setting(40, before);
    const report = search(problem, { budget: new Budget({ steps: 1000 }), dive: true });
    expect(report.outcome).toBe('optimal');
    for (const [early, late] of before)
      expect(report.best!.steps.indexOf(early)).toBeLessThan(report.best!.steps.indexOf(late));
    expect(asked()).toBeLessThan(300);
  });
});
