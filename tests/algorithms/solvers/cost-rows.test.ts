import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addCost, compareCost, earlierCost, laterCost } from '../../../src/algorithms/cost.js';
import {
  addRows,
  compareRows,
  copyRow,
  costOfRow,
  lowerRow,
  raiseRow,
  rowOfCost,
  unreachableRow,
} from '../../../src/algorithms/solvers/cost-rows.js';

const pair = fc
  .integer({ min: 1, max: 4 })
  .chain((terms) =>
    fc.tuple(
      ...[0, 1].map(() =>
        fc.array(fc.constantFrom(0, 1, 2, 0.25, Infinity), { minLength: terms, maxLength: terms }),
      ),
    ),
  );

describe('rows of costs', () => {
  it('are compared, added, raised and lowered like cost vectors', () => {
    fc.assert(
      fc.property(pair, ([a, b]) => {
        const terms = a!.length;
        const rows = Float64Array.from([9, ...a!, ...b!, ...a!, ...a!, ...b!]);
        const [at, bt, sum, high, low] = [0, 1, 2, 3, 4].map((i) => 1 + i * terms) as Row5;
        expect(Math.sign(compareRows(rows, at, rows, bt, terms))).toBe(Math.sign(compareCost(a!, b!)));
        addRows(rows, at, rows, bt, rows, sum, terms);
        raiseRow(rows, high, rows, bt, terms);
        lowerRow(rows, low, rows, at, terms);
        expect(costOfRow(rows, sum, terms)).toEqual(addCost(a!, b!));
        expect(costOfRow(rows, high, terms)).toEqual(laterCost(a!, b!));
        expect(costOfRow(rows, low, terms)).toEqual(earlierCost(b!, a!));
        copyRow(rows, at, rows, bt, terms);
        expect([...rows.subarray(0, 1 + 2 * terms)]).toEqual([9, ...a!, ...a!]);
      }),
      { numRuns: 500, seed: 16 },
    );
  });

  it('know what cannot be reached', () => {
    expect(compareRows(unreachableRow(2), 0, rowOfCost([1e300, 0]), 0, 2)).toBeGreaterThan(0);
  });
});

type Row5 = [number, number, number, number, number];
