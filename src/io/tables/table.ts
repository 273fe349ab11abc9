import type { Issue } from '../../model/issue.js';
import { hasError, inFileOrder } from '../issue-at.js';
import { printable, showValue } from '../show.js';
import type { TableCell } from './cell-value.js';
import { unitsOf } from './units-row.js';

/** A column by its letter, as spreadsheets name it, where it has no name or it is the name that is wrong. */
export function columnLabel(at: number): string {
  const letters = (n: number): string =>
    (n < 26 ? '' : letters(Math.floor(n / 26) - 1)) + String.fromCharCode(65 + (n % 26));
  return `column ${letters(at)}`;
}

export interface TableRow {
  /** Of the file or sheet, from 1. */
  readonly line: number;
  /** One for each column. */
  readonly cells: readonly TableCell[];
}

/** A table that was read: rows of cells below the names of its columns. */
export interface Table {
  readonly file: string;
  /** As they are written. */
  readonly columns: readonly string[];
  /** From the row below the names; nothing where a column has none. */
  readonly units: readonly (string | undefined)[];
  /** Of the row of units; 0 without one. */
  readonly unitsLine: number;
  readonly namesLine: number;
  readonly rows: readonly TableRow[];
}

/** What came of reading a table; with any error among the issues there is none. */
export interface TableReading {
  readonly table: Table | undefined;
  readonly issues: readonly Issue[];
}

export interface TableOptions {
  /** Columns whose cells are texts, whatever they look like: a part may be called 007. */
  readonly texts?: readonly string[];
  /** Columns that name what a row is about: in a row of units they are empty, or have the word `units`. */
  readonly keys?: readonly string[];
}

const NAME: readonly string[] = ['name'];

/** Rows at most; a weldment has far fewer parts, and a family far fewer variants. */
const MOST_ROWS = 10_000;
const MOST_COLUMNS = 500;

export const tableIssue = (
  file: string,
  line: number,
  path: string,
  problem: string,
  remedy: string,
): Issue => ({
  code: 'table',
  severity: 'error',
  ...{ file, line, path, problem, remedy },
});

/** How a reader makes cells of what it found, knowing whether the column is one of texts. */
export type CellOf<T> = (raw: T, asText: boolean) => TableCell;

/** Makes a table of rows that some reader found: the first has the names, the next may have the units. */
export function tableOfRows<T>(
  rows: readonly { readonly line: number; readonly raw: readonly T[] }[],
  cellOf: CellOf<T>,
  file: string,
  { texts = NAME, keys = NAME }: TableOptions,
): TableReading {
  const [head, ...below] = rows;
  const refuse = (...issues: readonly Issue[]): TableReading => ({ table: undefined, issues });
  if (head === undefined)
    return refuse(tableIssue(file, 0, '', 'the table is empty', 'begin with a row of column names'));
  if (below.length > MOST_ROWS)
    return refuse(
      tableIssue(file, 0, '', `the table has ${below.length} rows`, `at most ${MOST_ROWS} are read`),
    );
  const names = head.raw.map((raw) => String(cellOf(raw, true) ?? ''));
  const width = names.findLastIndex((name) => name !== '') + 1;
  const isText = names.map((name) => texts.includes(name.toLowerCase()));
  const filled = below
    .map(({ line, raw }) => ({ line, cells: raw.map((one, i) => cellOf(one, isText[i] ?? false)) }))
    .filter(({ cells }) => cells.some((cell) => cell !== undefined));
  const issues = [
    ...nameIssues(names.slice(0, width), filled, head.line, file),
    ...tooWide(filled, width, file),
  ];
  if (hasError(issues)) return refuse(...inFileOrder(issues));
  // A column with neither name nor cells is a gap that somebody left in a spreadsheet.
  const kept = names.flatMap((name, i) => (name === '' ? [] : [i]));
  const pick = <U>(from: readonly U[]): (U | undefined)[] => kept.map((i) => from[i]);
  const data = filled.map(({ line, cells }) => ({ line, cells: pick(cells) }));
  const units =
    data[0] &&
    unitsOf(
      data[0].cells,
      kept.map((i) => keys.includes(names[i]!.toLowerCase())),
    );
  const table: Table = {
    file,
    columns: kept.map((i) => names[i]!),
    units: units ?? kept.map(() => undefined),
    unitsLine: units === undefined ? 0 : data[0]!.line,
    namesLine: head.line,
    rows: units === undefined ? data : data.slice(1),
  };
  return { table, issues };
}

function nameIssues(
  names: readonly string[],
  rows: readonly TableRow[],
  line: number,
  file: string,
): readonly Issue[] {
  if (names.length === 0)
    return [tableIssue(file, line, '', 'the first row names no column', 'begin with a row of column names')];
  if (names.length > MOST_COLUMNS)
    return [
      tableIssue(file, line, '', `there are ${names.length} columns`, `at most ${MOST_COLUMNS} are read`),
    ];
  const issues: Issue[] = [];
  names.forEach((name, i) => {
    if (name === '') {
      const used = rows.find(({ cells }) => cells[i] !== undefined);
      if (used !== undefined)
        issues.push(
          tableIssue(
            file,
            used.line,
            columnLabel(i),
            `${showValue(used.cells[i])} stands in a column without a name`,
            'name the column in the first row, or empty it',
          ),
        );
    } else if (names.indexOf(name) < i)
      issues.push(tableIssue(file, line, printable(name), 'the column is given twice', 'keep one of them'));
  });
  return issues;
}

const tooWide = (rows: readonly TableRow[], width: number, file: string): readonly Issue[] =>
  rows
    .filter(({ cells }) => cells.slice(width).some((cell) => cell !== undefined))
    .map(({ line, cells }) =>
      tableIssue(
        file,
        line,
        '',
        `the row has ${cells.length} cells and there are ${width} columns`,
        'write a point in numbers where a comma stands between cells, and put a text with a comma in double quotes',
      ),
    );
