import { showValue } from '../io/show.js';
import type { Issue } from '../model/issue.js';
import { readCsv, plainText, type CsvRecord } from '../io/tables/csv-records.js';

/** Leading terms of the best cost known of each instance, by the name of the instance. */
export type BestKnown = ReadonlyMap<string, readonly number[]>;

/** Columns that hold the first term of a best cost. */
const FIRST: readonly string[] = ['best_known', 'best'];

/** The columns of a best cost: term by term in the order of the file, as `best_1` or `best time`; else its first term. */
function costColumns(names: readonly string[]): readonly string[] {
  const terms = names.filter((name) => /^best([_ ]\d+| .+)$/.test(name));
  return terms.length > 0 ? terms : FIRST.filter((name) => names.includes(name)).slice(0, 1);
}

/**
 * Reads a table of best values (CSV): a column `instance` and `best_known` or `best` with the first term, or `best_1`,
 * `best_2` or `best regrips`, `best time` and so on with all; other columns are passed over, as are instances without a value.
 */
export function readBestKnown(
  text: string,
  file: string,
): { readonly value: BestKnown | undefined; readonly issues: readonly Issue[] } {
  const issues: Issue[] = [];
  const complain = (line: number, path: string, problem: string, remedy: string): void => {
    issues.push({ code: 'best-known', severity: 'error', ...{ file, line, path, problem, remedy } });
  };
  const records = readCsv(text);
  if (!records.ok) {
    complain(records.error.line, '', records.error.problem, 'write it by RFC 4180');
    return { value: undefined, issues };
  }
  const [head, ...rows] = records.value;
  const names = head?.fields ?? [];
  const columns = costColumns(names);
  if (!names.includes('instance') || columns.length === 0) {
    const problem = `the columns are ${showValue(names.join(','))}`;
    complain(
      head?.line ?? 0,
      '',
      problem,
      'name instance and best_known, or instance and best_1, best_2, ...',
    );
    return { value: undefined, issues };
  }
  const value = new Map<string, readonly number[]>();
  for (const record of rows) readInto(value, record, names, columns, complain);
  return issues.length > 0 ? { value: undefined, issues } : { value, issues };
}

function readInto(
  value: Map<string, readonly number[]>,
  { line, fields }: CsvRecord,
  names: readonly string[],
  columns: readonly string[],
  complain: (line: number, path: string, problem: string, remedy: string) => void,
): void {
  const instance = plainText(fields[names.indexOf('instance')] ?? '').replace(/\.sop$/, '');
  const cost: number[] = [];
  for (const column of columns) {
    const cell = (fields[names.indexOf(column)] ?? '').trim();
    if (cell === '') break;
    const term = Number(cell);
    if (!Number.isFinite(term)) {
      complain(line, column, `${showValue(cell)} is not a number`, 'write the cost of the best order known');
      return;
    }
    cost.push(term);
  }
  if (cost.length === 0) return;
  if (value.has(instance))
    complain(line, 'instance', `${showValue(instance)} stands here twice`, 'keep one line');
  value.set(instance, cost);
}
