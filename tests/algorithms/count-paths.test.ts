import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countPaths } from '../../src/algorithms/count-paths.js';
import { Budget } from '../../src/base/budget.js';
import { allPaths, anyOrder, packed, precedenceOnly } from './solvers/small-problems.js';

const plenty = (): Budget => new Budget({ steps: 1_000_000 });
const PLAIN = { perWord: 32, bound: 'none', dominance: false, sharpens: false } as const;

type Pair = readonly [number, number];

/** Counts the orders of n items under the given pairs (a before b). */
function orders(n: number, pairs: readonly Pair[], perWord = 32): bigint {
  const counted = countPaths(packed(precedenceOnly(n, pairs), { ...PLAIN, perWord }), plenty());
  return counted.ok ? counted.value : -1n;
}

const chain = (from: number, length: number): Pair[] =>
  Array.from({ length: length - 1 }, (_, i) => [from + i, from + i + 1]);

/** Rows of a grid, each item after the one to the left of it and the one above. */
const grid = (rows: number, columns: number): Pair[] =>
  Array.from({ length: rows * columns }, (_, at): Pair[] => [
    ...(at % columns > 0 ? [[at - 1, at] as const] : []),
    ...(at >= columns ? [[at - columns, at] as const] : []),
  ]).flat();

/** a < b > c < d > ... */
const fence = (n: number): Pair[] =>
  Array.from({ length: Math.max(0, n - 1) }, (_, i) => (i % 2 === 0 ? [i, i + 1] : [i + 1, i]));

/** Subsets of n things, each after those that lack one of its own. */
const subsets = (n: number): Pair[] =>
  Array.from({ length: 2 ** n }, (_, set) =>
    Array.from({ length: n }, (_, bit) => bit)
      .filter((bit) => (set >> bit) & 1)
      .map((bit) => [set ^ (1 << bit), set] as const),
  ).flat();

const factorial = (n: number): bigint => (n < 2 ? 1n : BigInt(n) * factorial(n - 1));

const choose = (n: number, k: number): bigint => factorial(n) / (factorial(k) * factorial(n - k));

// Linear extensions of standard posets: check-values.md, section 13 (textbook identities), and the On-Line Encyclopedia of
// Integer Sequences, by number.
describe('countPaths', () => {
  it('counts n! orders without precedence', () => {
    for (let n = 0; n <= 9; n += 1) expect(orders(n, [])).toBe(factorial(n));
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

  it('counts Catalan numbers of ladders: OEIS A000108', () => {
    const catalan = [1n, 1n, 2n, 5n, 14n, 42n, 132n, 429n, 1430n, 4862n, 16796n, 58786n, 208012n];
    expect(catalan.map((_, n) => orders(2 * n, grid(2, n)))).toEqual(catalan);
    for (let n = 1; n <= 30; n += 1)
      expect(orders(2 * n, grid(2, n), 7)).toBe(choose(2 * n, n) / BigInt(n + 1));
  });

  it('counts the standard Young tableaux of three rows: OEIS A005789', () => {
    const tableaux = [1n, 1n, 5n, 42n, 462n, 6006n, 87516n];
    expect(tableaux.map((_, n) => orders(3 * n, grid(3, n), 4))).toEqual(tableaux);
  });

  it('counts Euler zigzag numbers of fences: OEIS A000111', () => {
    const zigzag = [1n, 1n, 1n, 2n, 5n, 16n, 61n, 272n, 1385n, 7936n, 50521n, 353792n, 2702765n];
    expect(zigzag.map((_, n) => orders(n, fence(n)))).toEqual(zigzag);
  });

  it('counts the linear extensions of the subsets of up to five things: OEIS A046873', () => {
    const known = [1n, 1n, 2n, 48n, 1680384n, 14807804035657359360n];
    expect(known.map((_, n) => orders(2 ** n, subsets(n), 9))).toEqual(known);
  });

  it('agrees with listing every path of random problems, in several ways and with moves that may not follow', () => {
    let impossible = 0;
    fc.assert(
      fc.property(anyOrder, fc.constantFrom(2, 3, 32), (order, perWord) => {
        const value = BigInt(allPaths(order).length);
        if (value === 0n) impossible += 1;
        expect(countPaths(packed(order, { ...PLAIN, perWord }), plenty())).toEqual({ ok: true, value });
      }),
      { numRuns: 300, seed: 15 },
    );
    expect(impossible).toBeGreaterThan(10);
  });

  it('counts none where there is a cycle', () => {
    expect(orders(3, [...chain(0, 3), [2, 0]])).toBe(0n);
  });

  it('says how far it came when the budget ends', () => {
    const counted = countPaths(packed(precedenceOnly(10, []), PLAIN), new Budget({ steps: 11 }));
    expect(counted).toEqual({ ok: false, error: { layer: 2, states: 0 } });
  });
});
