import type { Cost } from '../algorithms/cost.js';
import { rounded } from '../base/order.js';
import { showValue } from '../io/show.js';
import type { Issue } from '../model/issue.js';
import { plain } from '../report/plain.js';
import { csvLine, neutralText } from '../report/csv.js';
import { plainText, readCsv, type CsvRecord } from '../io/tables/csv-records.js';
import { gapOf, type Row, type RowOutcome } from './row.js';

/** Terms of a cost that the results have columns for: as many as an objective can have. */
export const MOST_TERMS = 4;

const KINDS: readonly string[] = ['abstract', 'sop', 'frame', 'weldment'] satisfies Row['kind'][];
const OUTCOMES: readonly string[] = [
  'optimal',
  'feasible',
  'impossible',
  'none-in-budget',
  'failed',
  'not-applicable',
] satisfies RowOutcome[];

/** A text from a file, on one line and safe in a spreadsheet. */
const text = (value: string): string => neutralText(plain(value));
/** Numbers are ours, and a minus before one is no formula. */
const number = (value: number | undefined): string =>
  value === undefined ? '' : value === Infinity ? 'inf' : String(value);
const seconds = (value: number | undefined): string =>
  number(value === undefined ? value : rounded(value, 6));

const termColumns = (name: string, of: (row: Row) => Cost | undefined): [string, (row: Row) => string][] =>
  Array.from({ length: MOST_TERMS }, (_, i) => [`${name}_${i + 1}`, (row) => number(of(row)?.[i])]);

/** The columns in their order, and what a row has in each. */
const COLUMNS: readonly (readonly [string, (row: Row) => string])[] = [
  ['instance', (row) => text(row.instance)],
  ['digest', (row) => row.digest],
  ['kind', (row) => row.kind],
  ['parts', (row) => number(row.parts)],
  ['solver', (row) => text(row.solver)],
  ['solver_digest', (row) => row.solverDigest],
  ['seed', (row) => number(row.seed)],
  ['seconds_limit', (row) => number(row.limits.seconds)],
  ['steps_limit', (row) => number(row.limits.steps)],
  ['memory_limit_mb', (row) => number(row.limits.megabytes)],
  ['outcome', (row) => row.outcome],
  ['terms', (row) => text(row.terms.join(' '))],
  ...termColumns('best', (row) => row.best),
  ...termColumns('bound', (row) => row.bound),
  ['proved_terms', (row) => number(row.provedTerms)],
  ['gap', (row) => seconds(gapOf(row))],
  ['steps', (row) => number(row.steps)],
  ['seconds_first', (row) => seconds(row.firstSeconds)],
  ['seconds_best', (row) => seconds(row.bestSeconds)],
  ['seconds_proof', (row) => seconds(row.proofSeconds)],
  ['seconds_total', (row) => seconds(row.totalSeconds)],
  ['dropped', (row) => number(row.dropped)],
  ['note', (row) => text(row.note)],
];

const NAMES = COLUMNS.map(([name]) => name);

/** The first line of every file of results. */
export const HEADER = csvLine(NAMES);

/** A row as one line of text, its end included: no field holds an end of line. */
export const rowLine = (row: Row): string => csvLine(COLUMNS.map(([, cell]) => cell(row)));

/** A row and the line of the file that it stands in. */
export interface ReadRow {
  readonly row: Row;
  readonly line: number;
}

/** Rows of a whole file of results, or why they cannot be used. */
export function readResults(
  content: string,
  file: string,
): { rows: readonly ReadRow[]; issues: readonly Issue[] } {
  const issues: Issue[] = [];
  const complain = (line: number, path: string, problem: string, remedy: string): void => {
    issues.push({ code: 'results', severity: 'error', ...{ file, line, path, problem, remedy } });
  };
  const records = readCsv(content);
  if (!records.ok) {
    complain(records.error.line, '', records.error.problem, 'take results as the study command writes them');
    return { rows: [], issues };
  }
  const [head, ...rest] = records.value;
  if (head?.fields.join() !== NAMES.join()) {
    complain(head?.line ?? 0, '', otherColumns(head), 'give a file of results of this version, or a new one');
    return { rows: [], issues };
  }
  const rows = rest.flatMap((record) => {
    const read = rowOf(record);
    if ('row' in read) return [read];
    complain(record.line, read.path, read.problem, 'take the line away, and the study makes it again');
    return [];
  });
  return { rows, issues };
}

function otherColumns(head: CsvRecord | undefined): string {
  if (head === undefined) return 'the file is empty';
  const other = NAMES.findIndex((name, i) => head.fields[i] !== name);
  return other < 0
    ? `there are ${head.fields.length} columns instead of ${NAMES.length}`
    : `column ${other + 1} is ${showValue(head.fields[other])} instead of "${NAMES[other]}"`;
}

type BadCell = { readonly path: string; readonly problem: string };

/** A column that is out of order; thrown and caught in this file only. */
class CellError extends Error {
  constructor(readonly cell: BadCell) {
    super(cell.problem);
  }
}

function rowOf({ line, fields }: CsvRecord): ReadRow | BadCell {
  if (fields.length !== NAMES.length)
    return { path: '', problem: `there are ${fields.length} fields instead of ${NAMES.length}` };
  try {
    return { row: readRow(new Cells(fields)), line };
  } catch (error) {
    if (error instanceof CellError) return error.cell;
    throw error;
  }
}

/** The fields of a row by the names of their columns. */
class Cells {
  constructor(private readonly fields: readonly string[]) {}

  raw(name: string): string {
    return this.fields[NAMES.indexOf(name)]!;
  }

  text(name: string): string {
    return plainText(this.raw(name));
  }

  /** Undefined for an empty field. */
  maybe(name: string): number | undefined {
    const raw = this.raw(name);
    if (raw === '') return undefined;
    const value = raw === 'inf' ? Infinity : Number(raw);
    if (Number.isNaN(value) || raw.trim() !== raw) throw this.error(name, 'is not a number');
    return value;
  }

  number(name: string): number {
    const value = this.maybe(name);
    if (value === undefined) throw this.error(name, 'is empty');
    return value;
  }

  oneOf(name: string, words: readonly string[]): string {
    const raw = this.raw(name);
    if (!words.includes(raw)) throw this.error(name, `is none of ${words.join(', ')}`);
    return raw;
  }

  cost(name: string, terms: number): Cost | undefined {
    const cost = Array.from({ length: terms }, (_, i) => this.maybe(`${name}_${i + 1}`));
    return cost.every((term) => term !== undefined) && terms > 0 ? cost : undefined;
  }

  private error(name: string, problem: string): CellError {
    return new CellError({ path: name, problem: `${showValue(this.raw(name))} ${problem}` });
  }
}

function readRow(cells: Cells): Row {
  const terms = cells
    .text('terms')
    .split(' ')
    .filter((term) => term !== '')
    .slice(0, MOST_TERMS);
  return {
    instance: cells.text('instance'),
    digest: cells.raw('digest'),
    kind: cells.oneOf('kind', KINDS) as Row['kind'],
    parts: cells.number('parts'),
    solver: cells.text('solver'),
    solverDigest: cells.raw('solver_digest'),
    seed: cells.number('seed'),
    limits: {
      seconds: cells.maybe('seconds_limit'),
      steps: cells.maybe('steps_limit'),
      megabytes: cells.number('memory_limit_mb'),
    },
    outcome: cells.oneOf('outcome', OUTCOMES) as RowOutcome,
    terms,
    best: cells.cost('best', terms.length),
    bound: cells.cost('bound', terms.length),
    provedTerms: cells.number('proved_terms'),
    steps: cells.number('steps'),
    firstSeconds: cells.maybe('seconds_first'),
    bestSeconds: cells.maybe('seconds_best'),
    proofSeconds: cells.maybe('seconds_proof'),
    totalSeconds: cells.number('seconds_total'),
    dropped: cells.number('dropped'),
    note: cells.text('note'),
  };
}
