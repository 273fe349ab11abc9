import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcsOf } from '../../src/algorithms/layered-arcs.js';
import { assignmentPrices, moved, priceScale } from '../../src/algorithms/node-prices.js';
import { closePrecedence } from '../../src/algorithms/precedence.js';
import { mostCost, precedencePairs } from '../../src/algorithms/sequential-ordering.js';

const sized = fc
  .record({ n: fc.integer({ min: 3, max: 12 }), share: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ n, share }) => {
    const most = Math.floor(mostCost(n) ** share);
    const cost = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, j) => Math.max(0, most - ((i * j) % 3))),
    );
    const closed = closePrecedence(precedencePairs({ cost }));
    if (!closed.ok) throw new Error('a circle');
    return { n, most, cost: Float64Array.from(cost.flat()), arcs: arcsOf(closed.value) };
  });

describe('priceScale', () => {
  it('leaves room for every sum of prices and costs, to half a grain, for costs of every size', () => {
    fc.assert(
      fc.property(sized, ({ n, most, cost, arcs }) => {
        const { grain, limit } = priceScale(cost, arcs);
        expect(1 % grain).toBe(0);
        expect(limit % grain).toBe(0);
        expect((n - 1) * most + n * limit).toBeLessThan(2 ** 52 * grain);
      }),
    );
  });

  it('is kept by the first prices and by those moved far', () => {
    fc.assert(
      fc.property(sized, fc.double({ min: -1e20, max: 1e20, noNaN: true }), ({ cost, arcs }, step) => {
        const scale = priceScale(cost, arcs);
        const first = assignmentPrices(cost, arcs, scale);
        for (const prices of [
          first,
          moved(
            first,
            first.map((_, i) => i - 2),
            step,
            scale,
          ),
        ])
          for (const price of prices) {
            expect(Math.abs(price)).toBeLessThanOrEqual(scale.limit);
            expect(Math.abs(price % scale.grain)).toBe(0);
          }
      }),
    );
  });
});
