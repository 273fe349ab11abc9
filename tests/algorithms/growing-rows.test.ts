import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GrowingRows, pack } from '../../src/algorithms/linear-program.js';

const COLUMNS = 40;
const ROWS = 60;

describe('rows that grow by columns', () => {
  it('are packed as those that were written down one after the other', () => {
    const column = fc.dictionary(fc.nat({ max: ROWS - 1 }).map(String), fc.integer({ min: -9, max: 9 }), {
      maxKeys: ROWS,
    });
    fc.assert(
      fc.property(fc.array(column, { minLength: COLUMNS, maxLength: COLUMNS }), (columns) => {
        const rows = Array.from({ length: ROWS }, (_, i) => ({
          ...{ lower: -i, upper: i },
          entries: columns.flatMap((entries, j) => (i in entries ? [[j, entries[i]!] as const] : [])),
        }));
        const growing = new GrowingRows();
        for (const { lower, upper } of rows) growing.add(lower, upper);
        columns.forEach((entries, j) => {
          for (const [row, value] of Object.entries(entries)) growing.enter(Number(row), j, value);
        });
        const bounds = { cost: 0, lower: 0, upper: 1 };
        expect(pack({ columns: columns.map(() => bounds), rows })).toMatchObject(growing.packed());
        expect(rows.map((_, i) => growing.isEmpty(i))).toEqual(
          rows.map(({ entries }) => entries.length === 0),
        );
      }),
      { numRuns: 60, seed: 8 },
    );
  });

  it('take over entries of others where they are told to, in their order', () => {
    const [sums, rows] = [new GrowingRows(), new GrowingRows()];
    for (let i = 0; i < 3; i += 1) sums.add(0, 0);
    const own = [rows.add(1, 2), rows.add(3, 4)];
    for (let j = 0; j < 4; j += 1) sums.enter(j % 3, j, 10 + j);
    rows.raise(own[1]!, 5);
    rows.takeEntries(sums, Int32Array.of(own[1]!, -1, own[0]!));
    expect(rows.packed()).toEqual({
      rowLower: Float64Array.of(1, 8),
      rowUpper: Float64Array.of(2, 9),
      starts: Int32Array.of(0, 1, 3),
      indices: Int32Array.of(2, 0, 3),
      values: Float64Array.of(12, 10, 13),
    });
  });
});
