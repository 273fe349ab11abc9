import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { search } from '../../src/algorithms/search.js';
import { orderingProblem, type SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { Budget } from '../../src/base/budget.js';
import { parseSop } from '../../src/io/sop.js';
import { allOrders, randomOrdering } from './small-orderings.js';

// TSPLIB sequential ordering instances (Reinelt 1991); files and best-known values in ../shared/data/SOURCES.md.
const FOLDER = new URL('../../../shared/data/sop-tsplib/', import.meta.url);
const present = existsSync(FOLDER);
const SOLVED_TO_PROOF = ['ESC07', 'ESC11', 'ESC12', 'ESC25', 'br17.10', 'br17.12'];

function instance(name: string): SequentialOrdering {
  const parsed = parseSop(readFileSync(new URL(`${name}.sop`, FOLDER), 'utf8'));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

function bestKnown(name: string): number {
  const rows = readFileSync(new URL('best-known.csv', FOLDER), 'utf8').trim().split('\n');
  const column = rows[0]!.split(',').indexOf('best_known');
  return Number(
    rows
      .map((row) => row.split(','))
      .find((row) => row[0] === name)
      ?.at(column),
  );
}

/** Cost of an order and whether it is legal, straight from the matrix. */
function judge({ cost }: SequentialOrdering, steps: readonly number[]): { legal: boolean; sum: number } {
  const order = [0, ...steps];
  const legal = order.every((node, at) => cost[node]!.every((c, j) => c !== -1 || order.indexOf(j) < at));
  const sum = steps.reduce((total, node, at) => total + cost[order[at]!]![node]!, 0);
  return { legal: legal && new Set(order).size === cost.length, sum };
}

describe('published sequential ordering instances', () => {
  it.skipIf(!present).each(SOLVED_TO_PROOF)('proves the best-known value of %s', (name) => {
    const read = instance(name);
    const report = search(orderingProblem(read), { budget: new Budget({ steps: 50_000 }) });
    const known = bestKnown(name);
    expect(known).toBeGreaterThan(0);
    expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [known] }, bound: [known] });
    expect(judge(read, report.best!.steps)).toEqual({ legal: true, sum: known });
  });

  it.skipIf(!present)('never claims a bound above the best-known value of the larger ones', () => {
    for (const name of ['ESC63', 'rbg048a', 'ry48p.4', 'ft53.4', 'p43.1']) {
      const read = instance(name);
      const report = search(orderingProblem(read), { budget: new Budget({ steps: 400 }) });
      const known = bestKnown(name);
      expect(report.bound[0]).toBeLessThanOrEqual(known);
      expect(report.best!.cost[0]).toBeGreaterThanOrEqual(known);
      expect(judge(read, report.best!.steps)).toEqual({ legal: true, sum: report.best!.cost[0] });
    }
  });
});

describe('orderingProblem', () => {
  const small = fc
    .record({
      seed: fc.integer(),
      n: fc.integer({ min: 2, max: 8 }),
      density: fc.double({ min: 0, max: 0.7 }),
    })
    .map(({ seed, n, density }) => randomOrdering(seed, n, density));

  it('agrees with listing every order', () => {
    fc.assert(
      fc.property(small, (read) => {
        const least = Math.min(...allOrders(read).map(({ cost }) => cost));
        const report = search(orderingProblem(read), { budget: new Budget({ steps: 100_000 }) });
        expect(report).toMatchObject({ outcome: 'optimal', best: { cost: [least] } });
      }),
      { numRuns: 500 },
    );
  });

  it('never bounds above the cheapest way on, along any order', () => {
    fc.assert(
      fc.property(small, (read) => {
        const problem = orderingProblem(read);
        for (const { order, cost } of allOrders(read).slice(0, 50)) {
          let state = problem.start;
          let spent = 0;
          expect(problem.bound(state)[0]).toBeLessThanOrEqual(cost);
          for (const node of order.slice(1)) {
            const move = [...problem.transitions(state)].find(({ step }) => step === node)!;
            spent += move.cost[0]!;
            state = move.to;
            expect(spent + problem.bound(state)[0]!).toBeLessThanOrEqual(cost);
          }
        }
      }),
      { numRuns: 100 },
    );
  });

  it('proves that a circle of precedences has no order', () => {
    const cost = [
      [0, 1, 1, 1],
      [1, 0, -1, 1],
      [1, -1, 0, 1],
      [1, 1, 1, 0],
    ];
    const report = search(orderingProblem({ cost }), { budget: new Budget({ steps: 100 }) });
    expect(report.outcome).toBe('impossible');
  });

  it('expands more without its bound', () => {
    const problem = orderingProblem(randomOrdering(3, 11, 0.2));
    const blind = { ...problem, bound: () => [0] };
    const [led, unled] = [problem, blind].map((p) => search(p, { budget: new Budget({ steps: 1e6 }) }));
    expect(led!.best?.cost).toEqual(unled!.best?.cost);
    expect(unled!.counters.expanded).toBeGreaterThan(led!.counters.expanded);
  });
});
