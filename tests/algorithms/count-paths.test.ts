import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countPaths } from '../../src/algorithms/count-paths.js';
import { orderingProblem } from '../../src/algorithms/sequential-ordering.js';
import { Budget } from '../../src/base/budget.js';
import { allPaths, graphProblem, randomGraph } from './small-problems.js';
import { allOrders, randomOrdering } from './small-orderings.js';

const plenty = (): Budget => new Budget({ steps: 1_000_000 });

/** Counts the orders of n nodes under the given pairs (a before b), between a fixed first and last node. */
function orders(n: number, pairs: readonly (readonly [number, number])[]): bigint {
  const cost = Array.from({ length: n + 2 }, () => new Array<number>(n + 2).fill(0));
  for (const [a, b] of pairs) cost[b + 1]![a + 1] = -1;
  const counted = countPaths(orderingProblem({ cost }), plenty());
  return counted.ok ? counted.value : -1n;
}

const chain = (from: number, length: number): [number, number][] =>
  Array.from({ length: length - 1 }, (_, i) => [from + i, from + i + 1]);

const factorial = (n: number): bigint => (n < 2 ? 1n : BigInt(n) * factorial(n - 1));

const choose = (n: number, k: number): bigint => factorial(n) / (factorial(k) * factorial(n - k));

// Linear extensions of standard posets: check-values.md, section 13 (textbook identities).
describe('countPaths', () => {
  it('counts n! orders without precedence', () => {
    for (let n = 1; n <= 9; n += 1) expect(orders(n, [])).toBe(factorial(n));
  });

  it('counts one order of a chain', () => {
    expect(orders(40, chain(0, 40))).toBe(1n);
  });

  it('counts C(m+n, m) orders of two chains, beyond the range of exact doubles', () => {
    for (const [m, n] of [
      [1, 1],
      [3, 5],
      [30, 30],
    ] as const)
      expect(orders(m + n, [...chain(0, m), ...chain(m, n)])).toBe(choose(m + n, m));
  });

  it('agrees with listing every order of random posets', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 2, max: 8 }),
        fc.double({ min: 0, max: 0.6 }),
        (seed, n, density) => {
          const instance = randomOrdering(seed, n, density);
          expect(countPaths(orderingProblem(instance), plenty())).toEqual({
            ok: true,
            value: BigInt(allOrders(instance).length),
          });
        },
      ),
      { numRuns: 200 },
    );
  });

  it('agrees with listing every path of random graphs', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 0, max: 6 }), (seed, layers) => {
        const graph = randomGraph(seed, { layers, width: 4, terms: 1 });
        const counted = countPaths(graphProblem(graph), plenty());
        expect(counted).toEqual({ ok: true, value: BigInt(allPaths(graph).length) });
      }),
    );
  });

  it('says how far it came when the budget ends', () => {
    const cost = Array.from({ length: 12 }, () => new Array<number>(12).fill(0));
    const counted = countPaths(orderingProblem({ cost }), new Budget({ steps: 11 }));
    expect(counted).toEqual({ ok: false, error: { layer: 2, states: 0 } });
  });
});
