import { nearestWord } from '../io/nearest-word.js';
import type { Issue } from '../model/issue.js';
import { issuesText } from '../report/findings-text.js';
import { counted } from '../report/numbers.js';
import { plain } from '../report/plain.js';
import type { PlacedRow } from '../study/claims.js';
import { gridOf, readShard, shardOf } from '../study/grid.js';
import { readInstance } from '../study/read-instance.js';
import { runKey, type Limits } from '../study/row.js';
import { readSeeds } from '../study/seeds.js';
import { readCellSource } from './cell-source.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource, sameFile } from './files.js';
import { readInstanceFiles } from './instance-files.js';
import { isThere } from './new-files.js';
import { ResultsFile } from './results-file.js';
import { readReportInputs, readRows, reportResults, type ReportFlags } from './results-report.js';
import { sensibleThreads } from './sensible-threads.js';
import type { StudyInstance } from './study-cell.js';
import { StudyPool } from './study-pool.js';
import { runGrid } from './study-run.js';
import { readHeuristic, readSolverNames, type AskedSolver } from './study-solvers-flag.js';

export interface StudyFlags extends ReportFlags {
  readonly solvers?: string;
  readonly heuristic?: readonly string[];
  readonly seeds: string;
  readonly seconds?: number;
  readonly steps?: number;
  readonly memory: number;
  readonly threads: number;
  readonly grace: number;
  readonly shard?: string;
  readonly cell?: string;
  readonly settings?: string;
  readonly out?: string;
}

/** Seconds a run gets where neither seconds nor steps are given (our choice). */
const SECONDS = 10;

/** `tackwright study`: runs every instance with every solver and seed that is not in the results yet, and sums them up. */
export async function studyCommand(paths: readonly string[], flags: StudyFlags): Promise<ExitCode> {
  const usage = usageProblem(paths, flags);
  if (usage !== undefined) {
    process.stderr.write(`${usage}\n`);
    return EXIT.usage;
  }
  const { instances, solvers, issues } = readAll(paths, flags);
  const inputs = readReportInputs(flags);
  const all = [...issues, ...inputs.issues];
  process.stderr.write(issuesText(all));
  if (all.some(({ severity }) => severity === 'error')) return EXIT.badInput;
  const seeds = readSeeds(flags.seeds);
  const limits = limitsOf(flags);
  const grid = gridOf(instances, solvers, seeds.ok ? seeds.value : [], limits);
  const shard = flags.shard === undefined ? undefined : readShard(flags.shard);
  const cells = shard === undefined ? grid : shardOf(grid, shard);
  const out = flags.out!;
  const file = ResultsFile.open(out, limits);
  if (!file.ok) {
    process.stderr.write(issuesText(file.error));
    return EXIT.badInput;
  }
  const results = file.value;
  const open = cells.filter(({ key }) => !results.done.has(runKey(key)));
  const threads = sensibleThreads(flags.threads);
  const pool = new StudyPool(threads, flags.grace);
  const ran = await runGrid(open, { pool, results, threads });
  await pool.close();
  results.close();
  if (ran.failed !== undefined) {
    process.stderr.write(issuesText([ran.failed]));
    return EXIT.badInput;
  }
  const before = cells.length - open.length;
  const kept = before === 0 ? '' : `, ${counted(before, 'row')} there before`;
  process.stdout.write(`Written: ${out} (${counted(ran.rows, 'row')} made${kept})\n\n`);
  const { rows } = readRows([out]);
  const code = reportResults(rows, inputs, flags);
  if (ran.rows < open.length) return EXIT.interrupted;
  return code === EXIT.done && allFailed(rows) ? EXIT.allFailed : code;
}

/** Whether there are runs, and every one that its solver takes has failed. */
function allFailed(rows: readonly PlacedRow[]): boolean {
  const applicable = rows.filter(({ row }) => row.outcome !== 'not-applicable');
  return applicable.length > 0 && applicable.every(({ row }) => row.outcome === 'failed');
}

export const limitsOf = ({ seconds, steps, memory }: StudyFlags): Limits => ({
  seconds: seconds ?? (steps === undefined ? SECONDS : undefined),
  steps,
  megabytes: memory,
});

/** What is wrong with the command line, in one line. */
function usageProblem(paths: readonly string[], flags: StudyFlags): string | undefined {
  const { heuristic = [], cell, settings, bestKnown, out, profile } = flags;
  const command = misspeltCommand(paths[0]);
  if (command !== undefined) return command;
  if (out === undefined) return 'name the file of the results with --out';
  if (flags.solvers === undefined && heuristic.length === 0)
    return 'name solvers with --solvers, or a module of your own with --heuristic';
  const solvers = flags.solvers === undefined ? undefined : readSolverNames(flags.solvers);
  if (solvers?.ok === false) return `--solvers: ${solvers.error}`;
  const seeds = readSeeds(flags.seeds);
  if (!seeds.ok) return `--seeds: ${seeds.error}`;
  if (flags.shard !== undefined && readShard(flags.shard) === undefined)
    return `--shard ${flags.shard}: write the number of the part and of all parts, as 2/8`;
  const read = [...paths, ...heuristic, cell, settings, bestKnown].filter((file) => file !== undefined);
  for (const [flag, file] of [
    ['--out', out],
    ['--profile', profile],
  ] as const) {
    const clash = read.find((input) => file !== undefined && sameFile(input, file));
    if (clash !== undefined) return `${flag} ${file} would overwrite the input ${clash}`;
  }
  return profile !== undefined && (profile === out || sameFile(profile, out))
    ? `--out and --profile are both ${out}`
    : undefined;
}

/** The first instance, when it is no file but nearly the name of a command of `study`. */
function misspeltCommand(first: string | undefined): string | undefined {
  if (first === undefined || isThere(first)) return undefined;
  const nearest = nearestWord(first, ['merge', 'summary']);
  return (
    nearest &&
    `there is no file "${plain(first)}"; maybe the command \`tackwright study ${nearest}\` is meant`
  );
}

function readAll(
  paths: readonly string[],
  { solvers: names, heuristic = [], cell, settings }: StudyFlags,
): {
  readonly instances: readonly StudyInstance[];
  readonly solvers: readonly AskedSolver[];
  readonly issues: readonly Issue[];
} {
  const files = readInstanceFiles(paths);
  const cellRead = cell === undefined ? undefined : readCellSource(cell).source;
  const settingsRead = settings === undefined ? undefined : readSource(settings);
  const own = heuristic.map(readHeuristic);
  const failures = [cellRead, settingsRead, ...own].flatMap((one) => (one?.ok === false ? [one.error] : []));
  const issues: Issue[] = [...files.issues, ...failures];
  const shared = {
    cell: cellRead?.ok === true ? cellRead.value : undefined,
    settings: settingsRead?.ok === true ? settingsRead.value : undefined,
  };
  const instances = files.sources.flatMap((instance) => {
    const sources = { instance, ...shared };
    const { value, issues: found } = readInstance(sources);
    issues.push(...found);
    return value === undefined ? [] : [{ digest: value.digest, instance: value, sources }];
  });
  const ours = names === undefined ? undefined : readSolverNames(names);
  const solvers = [
    ...(ours?.ok === true ? ours.value : []),
    ...own.flatMap((one) => (one.ok ? [one.value] : [])),
  ];
  return { instances, solvers, issues: distinct(issues) };
}

/** What several instances share, as a cell file, is told once. */
const distinct = (issues: readonly Issue[]): readonly Issue[] => [
  ...new Map(issues.map((issue) => [issuesText([issue]), issue])).values(),
];
