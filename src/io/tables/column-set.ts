import type { Issue } from '../../model/issue.js';
import { nearestWord } from '../nearest-word.js';
import { printable, showNames, showValue } from '../show.js';
import type { Table } from './table.js';

/** What a column holds: texts, or numbers in the one unit that a weldment file has for them. */
export type ColumnKind = 'text' | 'mm' | 'kg' | 'deg';

export interface ColumnSet {
  readonly kinds: Readonly<Record<string, ColumnKind>>;
  readonly needed: readonly string[];
}

/** The place of each column that a table has, by its name in small letters. */
export type Columns = ReadonlyMap<string, number>;

/** What units that people use come to: how many mm, kg or degrees one is. */
const FACTORS: Readonly<Record<string, readonly [ColumnKind, string]>> = {
  cm: ['mm', 'multiply by 10'],
  m: ['mm', 'multiply by 1000'],
  in: ['mm', 'multiply by 25.4'],
  inch: ['mm', 'multiply by 25.4'],
  inches: ['mm', 'multiply by 25.4'],
  '"': ['mm', 'multiply by 25.4'],
  ft: ['mm', 'multiply by 304.8'],
  g: ['kg', 'divide by 1000'],
  t: ['kg', 'multiply by 1000'],
  // Exact by definition: the international pound.
  lb: ['kg', 'multiply by 0.45359237'],
  lbs: ['kg', 'multiply by 0.45359237'],
  rad: ['deg', 'multiply by 180/pi'],
};

const SAME: Readonly<Record<string, ColumnKind>> = { '°': 'deg', degree: 'deg', degrees: 'deg' };

/**
 * Finds the columns of a table: known ones only, none missing that is needed, and below each column of numbers the unit
 * that the weldment file has for it. A file has one unit system, so nothing is converted.
 */
export function columnsOf(
  table: Table,
  set: ColumnSet,
): { readonly columns: Columns; readonly issues: readonly Issue[] } {
  const columns = new Map<string, number>();
  const issues: Issue[] = [];
  const known = Object.keys(set.kinds);
  const complain = (line: number, path: string, problem: string, remedy: string): unknown =>
    issues.push({ code: 'table-column', severity: 'error', file: table.file, line, path, problem, remedy });
  table.columns.forEach((written, i) => {
    const name = written.toLowerCase();
    const at = printable(written);
    if (!Object.hasOwn(set.kinds, name)) {
      const meant = nearestWord(
        name,
        known.filter((one) => !table.columns.some((other) => other.toLowerCase() === one)),
      );
      const remedy = meant === undefined ? `columns are ${known.join(', ')}` : `maybe \`${meant}\``;
      complain(
        table.namesLine,
        at,
        `${showValue(written)} is no column here`,
        `${remedy}; strike what is not read`,
      );
    } else if (columns.has(name))
      complain(table.namesLine, at, 'the column is given twice', 'keep one of them');
    else columns.set(name, i);
  });
  for (const name of set.needed)
    if (!columns.has(name))
      complain(table.namesLine, name, 'the column is missing', `needed are ${showNames(set.needed)}`);
  return { columns, issues: [...issues, ...unitIssues(table, columns, set)] };
}

function unitIssues(table: Table, columns: Columns, { kinds }: ColumnSet): readonly Issue[] {
  const measured = [...columns].filter(([name]) => kinds[name] !== 'text');
  if (measured.length === 0) return [];
  const issue = (line: number, path: string, problem: string, remedy: string): Issue => ({
    ...{ code: 'table-unit', severity: 'error', file: table.file, line, path, problem, remedy },
  });
  if (table.unitsLine === 0) {
    const wanted = (['mm', 'kg', 'deg'] as const).flatMap((unit) => {
      const names = measured.flatMap(([name]) => (kinds[name] === unit ? [name] : []));
      return names.length === 0 ? [] : [`${unit} below ${names.join(', ')}`];
    });
    const remedy = `write one below the names: ${wanted.join('; ')}`;
    return [issue(table.namesLine + 1, '', 'there is no row of units', remedy)];
  }
  return measured.flatMap(([name, at]) => {
    const kind = kinds[name]!;
    const unit = table.units[at];
    if (unit === kind || (unit !== undefined && SAME[unit.toLowerCase()] === kind)) return [];
    const problem = unit === undefined ? 'the column has no unit' : `the unit is ${showValue(unit)}`;
    const [to, how] = (unit !== undefined && FACTORS[unit.toLowerCase()]) || [];
    const remedy =
      to === kind
        ? `${how} in the table and write ${kind}`
        : `write ${kind} in the row of units, and numbers in it`;
    return [issue(table.unitsLine, name, problem, remedy)];
  });
}
