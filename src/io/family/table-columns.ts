import { MOST_VARIANTS } from '../../model/family-file.js';
import type { Issue } from '../../model/issue.js';
import type { Complaint } from '../issue-at.js';
import { printable } from '../show.js';
import type { Table } from '../tables/table.js';
import { maybe, type Parameters } from './variant-values.js';

/** Ways to write a unit that a family file calls otherwise. */
const SAME_UNIT = new Map([
  ['°', 'deg'],
  ['degree', 'deg'],
  ['degrees', 'deg'],
]);

/** What is wrong with the columns of a table of variants: missing ones, ones that are no parameter, other units. */
export function columnIssues(table: Table, parameters: Parameters): readonly Issue[] {
  const { columns, units, namesLine, unitsLine, rows } = table;
  const at = (line: number, column: string, complaint: Complaint): Issue => ({
    severity: 'error',
    ...complaint,
    ...{ file: table.file, line, path: column },
  });
  const needed = Object.entries(parameters).filter(([, one]) => one.default === undefined);
  const missing = ['name', ...needed.map(([word]) => word)].filter((column) => !columns.includes(column));
  const open = [...missing, ...Object.keys(parameters)].filter((word) => !columns.includes(word));
  return [
    ...missing.map((column) => at(namesLine, '', missingColumn(column))),
    ...columns
      .filter((column) => column !== 'name' && !Object.hasOwn(parameters, column))
      .map((column) => at(namesLine, printable(column), unknownColumn(column, open))),
    ...columns.flatMap((column, i) => {
      const unit = units[i];
      const wanted = Object.hasOwn(parameters, column) ? parameters[column]!.unit : unit;
      if (unit === undefined || (SAME_UNIT.get(unit) ?? unit) === wanted) return [];
      return [at(unitsLine, printable(column), otherUnit(unit, wanted))];
    }),
    ...(rows.length === 0 ? [at(namesLine, '', NO_ROWS)] : []),
    ...(rows.length > MOST_VARIANTS ? [at(0, '', tooMany(rows.length))] : []),
  ];
}

const NO_ROWS: Complaint = {
  code: 'table',
  problem: 'the table has no variant',
  remedy: 'add a row for each',
};

const tooMany = (count: number): Complaint => ({
  code: 'table',
  problem: `the table has ${count} variants`,
  remedy: `at most ${MOST_VARIANTS} are planned at once`,
});

const missingColumn = (column: string): Complaint => ({
  code: 'missing-column',
  problem: `the table has no column \`${column}\``,
  remedy:
    column === 'name' ? 'add it, with a name for each variant' : 'add it, or give the parameter a `default`',
});

const unknownColumn = (column: string, open: readonly string[]): Complaint => ({
  code: 'unknown-column',
  problem: `the column \`${printable(column)}\` is no parameter`,
  remedy: open.length === 0 ? 'strike it: every parameter has its column' : maybe(column, [...new Set(open)]),
});

const otherUnit = (unit: string, wanted: string | undefined): Complaint => ({
  code: 'column-unit',
  problem: `the column is in ${printable(unit)}, and the parameter ${wanted === undefined ? 'has no unit' : `is in ${wanted}`}`,
  remedy:
    wanted === undefined ? 'leave the unit out, or give the parameter one' : `give the column in ${wanted}`,
});
