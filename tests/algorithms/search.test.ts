import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost, type Cost } from '../../src/algorithms/cost.js';
import { search } from '../../src/algorithms/search.js';
import { Budget } from '../../src/base/budget.js';
import {
  allPaths,
  graphProblem,
  harshJudge,
  leastCost,
  looseBound,
  randomGraph,
  fullGraph,
} from './small-problems.js';

const plenty = (): Budget => new Budget({ steps: 1_000_000 });

const anyGraph = fc
  .record({
    seed: fc.integer(),
    layers: fc.integer({ min: 0, max: 6 }),
    width: fc.integer({ min: 1, max: 5 }),
    terms: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ seed, ...shape }) => randomGraph(seed, shape));

const rates = fc.record({
  refuse: fc.constantFrom(0, 0.05, 0.2, 0.4, 0.7),
  surcharge: fc.constantFrom(0, 0.3, 0.9),
});

/** The problem with refusals and surcharges, and the truth about it from listing every path. */
function judged(
  graph: ReturnType<typeof randomGraph>,
  seed: number,
  rate: { refuse: number; surcharge: number },
) {
  const paths = allPaths(graph);
  const costs = new Map(paths.map((path) => [path.steps.join(' '), path.cost]));
  const complete = harshJudge(seed, rate, (steps) => costs.get(steps.join(' '))!);
  const legal: Cost[] = [];
  for (const path of paths) {
    const said = complete(path.steps);
    if (said.kind === 'legal') legal.push(said.cost);
  }
  return {
    problem: graphProblem(graph, { complete, bound: looseBound(graph) }),
    complete,
    least: leastCost(legal),
  };
}

describe('search without completion', () => {
  it('finds the optimum of every small graph, and says impossible exactly when there is no path', () => {
    fc.assert(
      fc.property(anyGraph, fc.boolean(), (graph, bounded) => {
        const least = leastCost(allPaths(graph).map((path) => path.cost));
        const extras = bounded ? { bound: looseBound(graph) } : {};
        const report = search(graphProblem(graph, extras), { budget: plenty() });
        expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
        expect(report.best?.cost).toEqual(least);
        if (least !== undefined) expect(report.bound).toEqual(least);
        expect(report.provedTerms).toBe(least === undefined ? 0 : graph.terms);
      }),
      { numRuns: 2000 },
    );
  });

  it('returns the steps of the best cost', () => {
    const graph = randomGraph(7, { layers: 6, width: 5, terms: 2 });
    const report = search(graphProblem(graph), { budget: plenty() });
    const named = allPaths(graph).find((path) => path.steps.join() === report.best?.steps.join());
    expect(named?.cost).toEqual(report.best?.cost);
  });
});

describe('search with late refusals and surcharges', () => {
  it('finds the optimum of the judged costs, or proves that every path is refused', () => {
    fc.assert(
      fc.property(anyGraph, fc.integer(), rates, (graph, seed, rate) => {
        const { problem, complete, least } = judged(graph, seed, rate);
        const report = search(problem, { budget: plenty() });
        expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
        expect(report.best?.cost).toEqual(least);
        if (report.best !== undefined)
          expect(complete(report.best.steps)).toEqual({
            kind: 'legal',
            cost: report.best.cost,
            result: report.best.result,
          });
      }),
      { numRuns: 3000 },
    );
  });

  it('reports a true bound and the terms it proves whenever the budget or the memory ends early', () => {
    const limits = fc.record({
      steps: fc.integer({ min: 0, max: 40 }),
      maxNodes: fc.constantFrom(1, 3, 10, 100),
    });
    fc.assert(
      fc.property(anyGraph, fc.integer(), rates, limits, (graph, seed, rate, { steps, maxNodes }) => {
        const { problem, least } = judged(graph, seed, rate);
        const budget = new Budget({ steps });
        const report = search(problem, { budget, maxNodes });
        const { best, bound, outcome } = report;
        if (least === undefined) expect(['impossible', 'none-in-budget']).toContain(outcome);
        else {
          expect(compareCost(bound, least)).toBeLessThanOrEqual(0);
          expect(outcome).not.toBe('impossible');
          if (best !== undefined) expect(compareCost(best.cost, least)).toBeGreaterThanOrEqual(0);
          if (outcome === 'optimal') expect(best?.cost).toEqual(least);
        }
        const equal = best?.cost.findIndex((term, i) => term !== bound[i]);
        expect(report.provedTerms).toBe(best === undefined ? 0 : equal === -1 ? best.cost.length : equal);
        expect(budget.steps).toBeLessThanOrEqual(steps);
        expect(report.counters.expanded).toBe(budget.steps);
      }),
      { numRuns: 3000 },
    );
  });

  it('never judges a path that begins with a refused prefix, nor one path twice', () => {
    fc.assert(
      fc.property(anyGraph, fc.integer(), rates, (graph, seed, rate) => {
        const { problem, complete } = judged(graph, seed, rate);
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
            onRefusal: ({ steps, depth, reason }) => {
              expect(steps.slice(0, depth).join(' ')).toBe(reason);
              refused.push(`${steps.slice(0, depth).join(' ')} `);
            },
          },
        );
      }),
      { numRuns: 300 },
    );
  });

  it('takes up a parked path when the cheaper path to the same state is refused', () => {
    const graph = {
      layers: 2,
      width: 2,
      terms: 1,
      moves: [
        [
          [
            { to: 1, cost: [1] },
            { to: 1, cost: [2] },
            { to: 0, cost: [50] },
          ],
          [],
        ],
        [[{ to: 0, cost: [1] }], [{ to: 0, cost: [1] }]],
      ],
    };
    const report = search(
      graphProblem(graph, {
        complete: (steps) =>
          steps[0] === '0-0'
            ? { kind: 'refused', depth: 1, reason: 'first move' }
            : { kind: 'legal', cost: [3], result: 'second' },
      }),
      { budget: plenty() },
    );
    expect(report).toMatchObject({
      outcome: 'optimal',
      best: { cost: [3], result: 'second' },
      provedTerms: 1,
    });
    expect(report.counters).toMatchObject({ dominated: 1, released: 1, refused: 1, completed: 1 });
    expect(report.improvements).toHaveLength(1);
  });

  it('proves the impossible without listing the paths when no move sequence reaches the last layer', () => {
    const layers = 14;
    const moves = Array.from({ length: layers }, (_, layer) =>
      Array.from({ length: 4 }, () =>
        layer === layers - 1 ? [] : [0, 1, 2, 3].map((to) => ({ to, cost: [to % 2] })),
      ),
    );
    const complete = () => ({ kind: 'legal', cost: [99], result: '' }) as const;
    const report = search(graphProblem({ layers, width: 4, terms: 1, moves }, { complete }), {
      budget: plenty(),
    });
    expect(report.outcome).toBe('impossible');
    expect(report.counters.expanded).toBeLessThan(14 * 16);
  });
});

describe('budget and order of work', () => {
  const wide = fullGraph(9, 5);

  it('has a first path after as many expansions as there are layers', () => {
    const report = search(graphProblem(wide), { budget: new Budget({ steps: 9 }) });
    expect(report.outcome).toBe('feasible');
    expect(report.improvements).toEqual([{ step: 9, cost: report.best?.cost }]);
  });

  it('spends exactly the steps it is given, and none after the proof', () => {
    for (const steps of [0, 1, 8, 17, 30]) {
      const budget = new Budget({ steps });
      expect(search(graphProblem(wide), { budget }).counters.expanded).toBe(steps);
      expect(budget.steps).toBe(steps);
    }
    const budget = plenty();
    expect(search(graphProblem(wide), { budget }).counters.expanded).toBe(budget.steps);
  });

  it('never gets worse with more steps, nor does the bound', () => {
    let before = search(graphProblem(wide), { budget: new Budget({ steps: 9 }) });
    for (let steps = 10; steps < 60; steps += 1) {
      const now = search(graphProblem(wide), { budget: new Budget({ steps }) });
      expect(compareCost(now.best!.cost, before.best!.cost)).toBeLessThanOrEqual(0);
      expect(compareCost(now.bound, before.bound)).toBeGreaterThanOrEqual(0);
      before = now;
    }
  });

  it('stops when it is asked to', () => {
    let asked = 0;
    const budget = new Budget({ steps: 1e6, stopRequested: () => (asked += 1) > 5 });
    const report = search(graphProblem(wide), { budget });
    expect(report.outcome).toBe('none-in-budget');
    expect(report.counters.expanded).toBe(5);
  });

  it('gives the same report twice', () => {
    fc.assert(
      fc.property(
        anyGraph,
        fc.integer(),
        rates,
        fc.integer({ min: 1, max: 60 }),
        (graph, seed, rate, steps) => {
          const once = () => search(judged(graph, seed, rate).problem, { budget: new Budget({ steps }) });
          expect(once()).toEqual(once());
        },
      ),
      { numRuns: 300 },
    );
  });

  it('expands more when the bound is taken away', () => {
    const bound = looseBound(wide);
    const bare = search(graphProblem(wide), { budget: plenty() });
    const bounded = search(graphProblem(wide, { bound }), { budget: plenty() });
    expect(bounded.best?.cost).toEqual(bare.best?.cost);
    expect(bare.counters.expanded).toBeGreaterThan(bounded.counters.expanded);
  });

  it('reports progress after every pass with a bound that never passes the best', () => {
    const seen: { width: number; steps: number }[] = [];
    search(graphProblem(wide), {
      budget: plenty(),
      onProgress: ({ width, steps, best, bound }) => {
        seen.push({ width, steps });
        if (best !== undefined) expect(compareCost(bound, best)).toBeLessThanOrEqual(0);
      },
    });
    expect(seen.map(({ width }) => width)).toEqual(seen.map((_, pass) => 2 ** pass));
    expect(seen[0]?.steps).toBe(9);
  });
});

describe('broken contracts', () => {
  const graph = fullGraph(3, 2);

  it('rejects a judgement that is cheaper than the moves', () => {
    const complete = () => ({ kind: 'legal', cost: [-1, 0], result: '' }) as const;
    expect(() => search(graphProblem(graph, { complete }), { budget: plenty() })).toThrow(
      'cheaper than its moves',
    );
  });

  it('rejects a refusal deeper than the path', () => {
    const complete = () => ({ kind: 'refused', depth: 4, reason: '' }) as const;
    expect(() => search(graphProblem(graph, { complete }), { budget: plenty() })).toThrow('depth 4');
  });

  it('rejects a transition that skips a layer', () => {
    const problem = { ...graphProblem(graph), layer: (state: { layer: number }) => 2 * state.layer };
    expect(() => search(problem, { budget: plenty() })).toThrow('led to layer 2');
  });
});
