import { join } from 'node:path';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import type { Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import { findingsText, issuesText } from '../report/findings-text.js';
import { reportPlan, type ReportOutcome } from '../session/report.js';
import type { Source } from '../session/inputs.js';
import { readCellSource } from './cell-source.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource, sameFile, unwritable, writeAll, type WantedFile } from './files.js';
import { madeFolder } from './made-folder.js';
import { pageAssets } from './page-assets.js';

export interface PlanReportFlags {
  readonly weldment: string;
  readonly cell?: string;
  /** File for the page. */
  readonly out?: string;
  /** Folders for single pictures and for tables; they are made when they are not there. */
  readonly svg?: string;
  readonly csv?: string;
  /** What `plan --trade --json` printed. */
  readonly trade?: string;
  /** False: the rules are not asked again. */
  readonly check: boolean;
  /** File with answers that `tackwright why --json` printed. */
  readonly why?: string;
  /** False: it is not looked for what is forced. */
  readonly forced: boolean;
}

type Reported = Extract<ReportOutcome, { kind: 'reported' }>;

/** `tackwright report`: one HTML file that shows a plan, single pictures of it, and tables. */
export async function reportCommand(plan: string, flags: PlanReportFlags): Promise<ExitCode> {
  const { weldment, cell, out, svg, csv, trade, why } = flags;
  if (out === undefined && svg === undefined && csv === undefined) {
    process.stderr.write('say what to write: --out FILE for the page, --svg FOLDER, --csv FOLDER\n');
    return EXIT.usage;
  }
  const read = cell === undefined ? undefined : readCellSource(cell);
  const inputs = [plan, weldment, cell, trade, why].filter((file) => file !== undefined);
  const outcome = await reported(plan, flags, read?.source);
  if (outcome.kind === 'bad-input') return refused(outcome.issues);
  if (outcome.kind === 'ill-founded') {
    process.stdout.write(findingsText(outcome.findings));
    return EXIT.ruleBroken;
  }
  const files = wanted(outcome, flags);
  const clash = clashOf([...inputs, ...(read?.files ?? [])], files);
  if (clash !== undefined) {
    process.stderr.write(`${clash.file} would overwrite the input ${clash.input}\n`);
    return EXIT.usage;
  }
  const issue = written(flags, files);
  if (issue) return refused([issue]);
  process.stderr.write(issuesText(outcome.warnings));
  process.stdout.write(files.map(({ file }) => `Written: ${file}\n`).join(''));
  return EXIT.done;
}

function refused(issues: readonly Issue[]): ExitCode {
  process.stderr.write(issuesText(issues));
  return EXIT.badInput;
}

function wanted({ page, pictures, tables }: Reported, { out, svg, csv }: PlanReportFlags): WantedFile[] {
  return [
    ...(out === undefined || page === undefined ? [] : [{ file: out, text: page }]),
    ...(svg === undefined ? [] : pictures.map((one) => ({ file: join(svg, one.file), text: one.svg }))),
    ...(csv === undefined ? [] : tables.map((one) => ({ file: join(csv, one.file), text: one.text }))),
  ];
}

const clashOf = (
  inputs: readonly string[],
  files: readonly WantedFile[],
): { readonly file: string; readonly input: string } | undefined => {
  for (const { file } of files) for (const input of inputs) if (sameFile(file, input)) return { file, input };
  return undefined;
};

/** Makes the folders and writes all files or none; the issue that stopped it. */
function written({ svg, csv }: PlanReportFlags, files: readonly WantedFile[]): Issue | undefined {
  for (const folder of [svg, csv]) {
    const issue = folder === undefined ? undefined : madeFolder(folder);
    if (issue) return issue;
  }
  const all = writeAll(files);
  return all.ok ? undefined : all.error;
}

async function reported(
  plan: string,
  { weldment, out, svg, csv, trade, check, why, forced }: PlanReportFlags,
  cell: ReturnType<typeof readCellSource>['source'] | undefined,
): Promise<ReportOutcome> {
  const [planned, parts] = [readSource(plan), readSource(weldment)];
  const traded = trade === undefined ? undefined : readSource(trade);
  const answers = why === undefined ? undefined : readSource(why);
  const closed = out === undefined ? undefined : unwritable(out);
  const issues = [planned, parts, cell, traded, answers].flatMap((one) =>
    one === undefined || one.ok ? [] : [one.error],
  );
  const unread = [cell, traded, answers].some((one) => one?.ok === false);
  if (!planned.ok || !parts.ok || unread || closed)
    return { kind: 'bad-input', issues: [...issues, ...(closed ? [closed] : [])] };
  const given = (source: Result<Source, Issue> | undefined): Source | undefined =>
    source?.ok === true ? source.value : undefined;
  return reportPlan(
    planned.value,
    { weldment: parts.value, cell: given(cell), trade: given(traded), answers: given(answers) },
    {
      programs: await loadLinearPrograms(),
      assets: out === undefined ? undefined : pageAssets(),
      ...{ judge: check, why: forced, pictures: svg !== undefined, tables: csv !== undefined },
    },
  );
}
