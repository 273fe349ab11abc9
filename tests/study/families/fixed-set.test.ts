import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { nameOf, readTable, solved, tableText } from '../../../benchmarks/instances/best-known.js';
import { fixedSet } from '../../../benchmarks/instances/fixed-set.js';
import { compareCost } from '../../../src/algorithms/cost.js';

const FOLDER = join(import.meta.dirname, '..', '..', '..', 'benchmarks', 'instances');
const text = (file: string): string => readFileSync(join(FOLDER, file), 'utf8');
const set = fixedSet();
const table = text('best-known.csv');
const rows = readTable(table);

describe('the fixed set of instances', () => {
  it('is made again byte for byte, and there are sixty', () => {
    expect(set.length).toBe(60);
    expect(readdirSync(FOLDER).filter((file) => file.endsWith('.weldment.yaml'))).toEqual(
      set.map(({ file }) => file).sort(),
    );
    for (const instance of set) expect(text(instance.file)).toBe(instance.text);
  });

  it('has a row each in the table, in their order, with a bound that is not above the best', () => {
    expect(rows.map(({ instance }) => instance)).toEqual(set.map(nameOf));
    expect(tableText(rows)).toBe(table);
    for (const { best, bound, proved } of rows)
      expect(Math.sign(compareCost(bound, best))).toBe(proved ? 0 : -1);
  });

  // A better search may find more than the table says, never less.
  it.each(rows.map((row, i) => ({ row, instance: set[i]!, name: row.instance })))(
    'the named search reaches and proves again what is known of $name',
    ({ row, instance }) => {
      const again = solved(instance, row.steps);
      expect(again?.findings).toBe(0);
      const { best, bound, proved } = again!.row;
      expect(compareCost(best, row.best)).toBeLessThanOrEqual(0);
      expect(compareCost(bound, row.bound)).toBeGreaterThanOrEqual(0);
      // A best value below a bound that was claimed would show that the bound was wrong.
      expect(compareCost(best, row.bound)).toBeGreaterThanOrEqual(0);
      expect(proved || !row.proved).toBe(true);
    },
  );
});
