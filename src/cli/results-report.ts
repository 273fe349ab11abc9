import type { Issue } from '../model/issue.js';
import { issuesText } from '../report/findings-text.js';
import { counted } from '../report/numbers.js';
import { plain } from '../report/plain.js';
import { againstTable } from '../study/against-table.js';
import { readBestKnown, type BestKnown } from '../study/best-known.js';
import { contradictionsAmong, type Contradiction, type PlacedRow } from '../study/claims.js';
import { knownOf } from '../study/gap-to-known.js';
import { performanceProfile, type Measure } from '../study/profile.js';
import { profileSvg } from '../study/profile-svg.js';
import { readResults } from '../study/results-csv.js';
import type { Row } from '../study/row.js';
import { summarise } from '../study/summary.js';
import { profileText, summaryText } from '../study/summary-text.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource, unwritable, writeWhole } from './files.js';

/** How results are to be summed up. */
export interface ReportFlags {
  readonly bestKnown?: string;
  readonly profile?: string;
  readonly measure?: Measure;
}

/** What is read, and looked after, before long work is done. */
export interface ReportInputs {
  readonly table: BestKnown | undefined;
  readonly issues: readonly Issue[];
}

export function readReportInputs({ bestKnown, profile }: ReportFlags): ReportInputs {
  const closed = profile === undefined ? undefined : unwritable(profile);
  const issues = closed === undefined ? [] : [closed];
  if (bestKnown === undefined) return { table: undefined, issues };
  const source = readSource(bestKnown);
  if (!source.ok) return { table: undefined, issues: [...issues, source.error] };
  const read = readBestKnown(source.value.text, bestKnown);
  return { table: read.value, issues: [...issues, ...read.issues] };
}

/** Reads whole files of results; every row knows where it stands. */
export function readRows(files: readonly string[]): {
  readonly rows: readonly PlacedRow[];
  readonly issues: readonly Issue[];
} {
  const read = files.map((file) => {
    const source = readSource(file);
    if (!source.ok) return { rows: [], issues: [source.error] };
    const { rows, issues } = readResults(source.value.text, file);
    return { rows: rows.map(({ row, line }) => ({ row, place: `${file}:${line}` })), issues };
  });
  return { rows: read.flatMap(({ rows }) => rows), issues: read.flatMap(({ issues }) => issues) };
}

const linesOf = (texts: readonly string[]): string => texts.map((text) => `${plain(text)}\n`).join('');

export const contradictionsText = (contradictions: readonly Contradiction[]): string =>
  linesOf(contradictions.map(({ places, text }) => `${places.join(' and ')}: ${text}`));

/** Prints what results come to and draws their profile. Rows that contradict each other or the table are told, and are bad input. */
export function reportResults(
  placed: readonly PlacedRow[],
  { table }: ReportInputs,
  { profile: svg, measure = 'proof' }: ReportFlags,
): ExitCode {
  const rows = placed.map(({ row }) => row);
  const to = gapsTo(rows, table);
  const profile = performanceProfile(rows, measure);
  process.stdout.write(`${summaryText(summarise(rows, knownOf(rows, table)), to)}\n${profileText(profile)}`);
  const contradictions = contradictionsAmong(placed);
  process.stderr.write(contradictionsText(contradictions));
  const { improved, excluded } = againstTable(placed, table ?? new Map());
  process.stdout.write(linesOf(improved));
  process.stderr.write(linesOf(excluded));
  if (svg !== undefined) {
    const written = writeWhole(svg, profileSvg(profile));
    if (!written.ok) {
      process.stderr.write(issuesText([written.error]));
      return EXIT.badInput;
    }
    process.stdout.write(`Written: ${svg}\n`);
  }
  return contradictions.length + excluded.length > 0 ? EXIT.badInput : EXIT.done;
}

/** What gaps are taken to, with how many instances the table does not have. */
function gapsTo(rows: readonly Row[], table: BestKnown | undefined): string {
  if (table === undefined) return AMONG;
  const missed = new Set(rows.filter(({ instance }) => !table.has(instance)).map(({ digest }) => digest))
    .size;
  const rest = `; for ${counted(missed, 'instance')} that the table does not have, above ${AMONG}`;
  return `the best known cost${missed === 0 ? '' : rest}`;
}

const AMONG = 'the best cost among these rows';
