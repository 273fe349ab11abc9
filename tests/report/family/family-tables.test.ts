import { describe, expect, it } from 'vitest';
import { readCsvTable } from '../../../src/io/tables/csv-table.js';
import { familyTables } from '../../../src/report/family/family-tables.js';
import { familyResult } from '../../support/family-result.js';

const result = familyResult();
const tables = familyTables(result).map(({ file, text }) => {
  const { table, issues } = readCsvTable(text, file, {
    texts: ['variant', 'reasons', 'chosen', 'fits'],
    keys: ['variant'],
  });
  expect(issues).toEqual([]);
  return table!;
});
/** Rows by the names of the columns. */
const rowsOf = (at: number) =>
  tables[at]!.rows.map(({ cells }) =>
    Object.fromEntries(tables[at]!.columns.map((name, i) => [name, cells[i]])),
  );

describe('familyTables', () => {
  it('are named, and every column once', () => {
    expect(tables.map(({ file }) => file)).toEqual(['variants.csv', 'matrix.csv']);
    for (const { columns } of tables) expect(new Set(columns).size).toBe(columns.length);
  });

  it('have one row a variant with its values and what it comes to', () => {
    const rows = rowsOf(0);
    expect(rows.map(({ variant }) => variant)).toEqual(result.variants.map(({ name }) => name));
    expect(rows[0]).toMatchObject({
      ...{ variant: 'h160-t6', source: 'variant', 'value height': 160, 'value thick': 6, outcome: 'planned' },
      ...{
        built_by: 'P1',
        regrips: 1,
        seconds: 350.5,
        least_reserve: 1.834,
        reserve_required: 1.5,
        reserve_stage: 4,
      },
      ...{ plan: 'variants/h160-t6.P1.plan.json', own_plan: 'variants/h160-t6.own.plan.json' },
    });
    expect(rows.find(({ variant }) => variant === 'h260-t14')).toMatchObject({
      ...{ outcome: 'impossible', built_by: undefined, regrips: undefined },
      reasons: 'base weighs 24.6 kg with its gripper, and handler carries at most 16 kg',
    });
  });

  it('have broken wishes where plans were compared by them', () => {
    const wished = familyResult();
    wished.covering.extra.unshift({ term: 'wishes', value: 0 });
    wished.matrix[0]!.extra!.unshift({ term: 'wishes', value: 7 });
    const [heads, ...rows] = familyTables(wished)[1]!.text.split(/\r?\n/);
    const at = heads!.split(',').indexOf('extra_wishes');
    expect(at).toBeGreaterThan(0);
    expect(rows.map((row) => row.split(',')[at])).toContain('7');
    expect(tables[1]!.columns).not.toContain('extra_wishes');
  });

  it('have every field of the matrix, and every own plan', () => {
    const rows = rowsOf(1);
    expect(rows).toHaveLength(result.matrix.length + result.variants.length);
    const of = (variant: string, pattern: string) =>
      rows.find((row) => row['variant'] === variant && row['pattern'] === pattern);
    expect(of('h200-t6', 'P2')).toMatchObject({
      ...{ chosen: 'no', fits: 'yes', cost_regrips: 2, cost_time_tenths_s: 3629 },
      ...{ extra_regrips: 1, extra_time_tenths_s: 25, reasons: undefined },
    });
    expect(of('h240-t6', 'P1')).toMatchObject({
      ...{ chosen: 'no', fits: 'no', cost_regrips: undefined },
      reasons: 'the pattern asks web by magnet-small on -y: joint 5 beyond its limit, 131 deg, limit 125 deg',
    });
    expect(of('h240-t6', 'own')).toMatchObject({ fits: 'yes', cost_regrips: 2 });
  });
});
