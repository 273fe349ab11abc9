import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcsOf, windowsOf } from '../../src/algorithms/layered-arcs.js';
import { closePrecedence } from '../../src/algorithms/precedence.js';
import { precedencePairs } from '../../src/algorithms/sequential-ordering.js';
import { members, setOf } from '../../src/base/part-set.js';
import { allOrders, randomOrdering } from './small-orderings.js';

const relation = (n: number, pairs: readonly (readonly [number, number])[]): Uint32Array[] =>
  Array.from({ length: n }, (_, i) =>
    setOf(
      n,
      pairs.flatMap(([a, b]) => (b === i ? [a] : [])),
    ),
  );

describe('closePrecedence', () => {
  it('closes a chain, and finds its direct pairs again', () => {
    const closed = closePrecedence(
      relation(40, [
        [0, 35],
        [35, 39],
        [0, 39],
      ]),
    );
    if (!closed.ok) throw new Error('a cycle?');
    expect(members(closed.value.before[39]!)).toEqual([0, 35]);
    expect(members(closed.value.after[0]!)).toEqual([35, 39]);
    expect([...closed.value.direct[39]!]).toEqual([35]);
  });

  it('names a shortest cycle, each before the next', () => {
    const pairs = [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 1],
      [3, 4],
      [4, 5],
      [5, 6],
      [6, 4],
      [6, 0],
    ] as const;
    expect(closePrecedence(relation(7, pairs))).toEqual({ ok: false, error: [1, 2, 3] });
    expect(closePrecedence(relation(2, [[1, 1]]))).toEqual({ ok: false, error: [1] });
  });
});

describe('arcsOf', () => {
  it('has the arcs and windows of all orders that keep the precedences, and arcs besides only where no order shows it', () => {
    const small = fc.tuple(fc.integer(), fc.integer({ min: 2, max: 7 }), fc.double({ min: 0, max: 0.8 }));
    fc.assert(
      fc.property(small, ([seed, n, density]) => {
        const read = randomOrdering(seed, n, density);
        const closed = closePrecedence(precedencePairs(read));
        if (!closed.ok) throw new Error('a cycle?');
        const arcs = arcsOf(closed.value);
        const has = (p: number, i: number, k: number): boolean =>
          arcs.to.subarray(arcs.start[p * n + i], arcs.start[p * n + i + 1]).includes(k);
        const orders = allOrders(read).map(({ order }) => order);
        for (const order of orders)
          for (let p = 0; p < n - 1; p += 1) expect(has(p, order[p]!, order[p + 1]!)).toBe(true);
        const { earliest, latest } = windowsOf(arcs);
        for (let i = 0; i < n; i += 1) {
          const places = orders.map((order) => order.indexOf(i));
          expect([earliest[i], latest[i]]).toEqual([Math.min(...places), Math.max(...places)]);
        }
      }),
      { numRuns: 200 },
    );
  });
});
