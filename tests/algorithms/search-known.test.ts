import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareCost, type Cost } from '../../src/algorithms/cost.js';
import type { SearchBest } from '../../src/algorithms/problem.js';
import { search } from '../../src/algorithms/search.js';
import { Budget } from '../../src/base/budget.js';
import {
  allPaths,
  graphProblem,
  harshJudge,
  leastCost,
  looseBound,
  randomGraph,
  withCandidates,
} from './small-problems.js';

const anyCase = fc
  .record({
    seed: fc.integer(),
    layers: fc.integer({ min: 1, max: 6 }),
    width: fc.integer({ min: 1, max: 5 }),
    terms: fc.integer({ min: 1, max: 3 }),
    refuse: fc.constantFrom(0, 0.05, 0.2, 0.4),
    surcharge: fc.constantFrom(0, 0.3, 0.9),
    which: fc.nat(),
  })
  .map(({ seed, which, ...shape }) => {
    const graph = randomGraph(seed, shape);
    const paths = allPaths(graph);
    const costs = new Map(paths.map((path) => [path.steps.join(' '), path.cost]));
    const complete = harshJudge(seed + 7, shape, (steps) => costs.get(steps.join(' ')) ?? [0]);
    const legal = paths.flatMap(({ steps }): SearchBest<string, string>[] => {
      const said = complete(steps);
      return said.kind === 'legal' ? [{ steps, cost: said.cost, result: said.result }] : [];
    });
    const plain = graphProblem(graph, { complete, bound: looseBound(graph) });
    return {
      problem: withCandidates(plain, graph, seed),
      unjudged: withCandidates(graphProblem(graph, { bound: looseBound(graph) }), graph, seed),
      known: legal.length > 0 ? legal[which % legal.length] : undefined,
      least: leastCost(legal.map(({ cost }): Cost => cost)),
    };
  })
  .filter(({ known }) => known !== undefined);

describe('a search that begins with a known path', () => {
  it('finds the optimum of every small problem, and keeps the known path where that costs no more', () => {
    let kept = 0;
    fc.assert(
      fc.property(anyCase, fc.boolean(), ({ problem, known, least }, dive) => {
        const report = search(problem, { budget: new Budget({ steps: 1_000_000 }), known, dive });
        expect(report.outcome).toBe('optimal');
        expect(report.best?.cost).toEqual(least);
        expect(report.bound).toEqual(least);
        if (compareCost(known!.cost, least!) > 0) return;
        kept += 1;
        expect(report.best).toBe(known);
      }),
      { numRuns: 3000 },
    );
    expect(kept).toBeGreaterThan(500);
  });

  it('looks at no more states than one that begins with nothing', () => {
    fc.assert(
      fc.property(anyCase, ({ unjudged, known }) => {
        const budget = (): Budget => new Budget({ steps: 1_000_000 });
        const without = search(unjudged, { budget: budget() });
        const best = { ...known!, cost: without.best!.cost };
        const report = search(unjudged, { budget: budget(), known: best });
        expect(report.counters.expanded).toBeLessThanOrEqual(without.counters.expanded);
      }),
      { numRuns: 1000 },
    );
  });

  it('finds what is better by as much as a known path is put lower, and else keeps that and proves no more', () => {
    let [kept, bettered] = [0, 0];
    fc.assert(
      fc.property(anyCase, fc.integer({ min: 1, max: 6 }), ({ problem, known, least }, saving) => {
        const cost = known!.cost.map((term, i, { length }) => (i === length - 1 ? term - saving : term));
        const lower = { ...known!, cost };
        const report = search(problem, { budget: new Budget({ steps: 1_000_000 }), known: lower });
        if (compareCost(least!, cost) < 0) {
          bettered += 1;
          expect(report.best?.cost).toEqual(least);
          expect(report.bound).toEqual(least);
        } else {
          kept += 1;
          expect(report.best).toBe(lower);
          expect(report.bound).toEqual(cost);
        }
      }),
      { numRuns: 2000 },
    );
    expect(Math.min(kept, bettered)).toBeGreaterThan(300);
  });

  it('tells a true bound and the known path where the budget ends at once', () => {
    fc.assert(
      fc.property(anyCase, ({ problem, known, least }) => {
        const report = search(problem, { budget: new Budget({ steps: 0 }), known });
        expect(report.best).toBe(known);
        expect(compareCost(report.bound, least!)).toBeLessThanOrEqual(0);
        expect(report.counters.expanded).toBe(0);
      }),
      { numRuns: 1000 },
    );
  });
});
