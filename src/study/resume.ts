import type { Issue } from '../model/issue.js';
import { HEADER, readResults } from './results-csv.js';
import { LINE_END } from '../report/csv.js';
import { limitsKey, runKey, type Limits } from './row.js';

/** What is there of a study that was begun before. */
export interface Begun {
  /** The leading part of the text that is whole lines; what follows it was torn off and is to be cut away. */
  readonly whole: string;
  /** Keys of the runs that need not be repeated. */
  readonly done: ReadonlySet<string>;
}

/**
 * Takes up a file of results. Each row is one line, written at once, so that an interruption can tear the last one only.
 * Refused are a file that is no file of results and one with rows under other limits, which could not be compared.
 */
export function resume(
  content: string,
  file: string,
  limits: Limits,
): { readonly begun: Begun | undefined; readonly issues: readonly Issue[] } {
  const end = content.lastIndexOf(LINE_END);
  const whole = end < 0 ? '' : content.slice(0, end + LINE_END.length);
  if (whole === '' && HEADER.startsWith(content)) return { begun: { whole, done: new Set() }, issues: [] };
  const { rows, issues } = readResults(whole === '' ? content : whole, file);
  if (issues.length > 0) return { begun: undefined, issues };
  const other = rows.find(({ row }) => limitsKey(row.limits) !== limitsKey(limits));
  if (other !== undefined)
    return { begun: undefined, issues: [otherLimits(file, other.line, other.row.limits, limits)] };
  return { begun: { whole, done: new Set(rows.map(({ row }) => runKey(row))) }, issues: [] };
}

/** Limits as one writes them on the command line. */
export const limitsText = ({ seconds, steps, megabytes }: Limits): string =>
  [
    ...(seconds === undefined ? [] : [`--seconds ${seconds}`]),
    ...(steps === undefined ? [] : [`--steps ${steps}`]),
    `--memory ${megabytes}`,
  ].join(' ');

const otherLimits = (file: string, line: number, found: Limits, wanted: Limits): Issue => ({
  ...{ code: 'other-limits', severity: 'error', file, line, path: '' },
  problem: `this row was made with ${limitsText(found)}, and this study is run with ${limitsText(wanted)}`,
  remedy: 'give the limits of the file, or another file with --out',
});
