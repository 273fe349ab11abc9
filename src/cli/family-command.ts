import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { FamilyInputs } from '../family/result.js';
import type { FamilyOutcome } from '../family/run.js';
import { planReadFamily, type SharedByTasks } from '../family/session.js';
import type { FamilyProgress } from '../family/task-run.js';
import { canonicalText } from '../io/canonical.js';
import type { FamilyResult } from '../model/family-result.js';
import type { Issue } from '../model/issue.js';
import { familyText } from '../report/family-text.js';
import { issuesText } from '../report/findings-text.js';
import { amount, counted } from '../report/numbers.js';
import { plain } from '../report/plain.js';
import { buildMark } from './build-mark.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { filesOfFamily, filesOfVariants, TASKS, VARIANTS } from './family-files.js';
import { FamilyPool } from './family-pool.js';
import { runTasks, type FamilyRun, type TaskCounts } from './family-run.js';
import { readFamilyFiles } from './family-source.js';
import { FamilyStore } from './family-store.js';
import { sameFile, writeAll, type WantedFile } from './files.js';
import { madeFolder } from './made-folder.js';
import { sensibleThreads } from './sensible-threads.js';
import { showLine } from './stoppable-thread.js';

export interface FamilyFlags {
  readonly cell?: string;
  readonly settings?: string;
  readonly out?: string;
  readonly threads?: number;
  readonly samples?: number;
  readonly seed?: number;
  readonly steps?: number;
  readonly quick?: boolean;
  readonly json?: boolean;
}

type Planned = Extract<FamilyOutcome, { readonly kind: 'planned' }>;

/** `tackwright family`: reads the files, plans every variant on threads that an interrupt ends, prints and writes. */
export async function familyCommand(file: string, flags: FamilyFlags): Promise<ExitCode> {
  const { inputs, shared, issues, files } = await readFamilyFiles(file, flags);
  if (inputs === undefined || shared === undefined) return refused(issues, flags);
  process.stderr.write(issuesText(issues));
  const { out } = flags;
  const clash = out === undefined ? undefined : clashOf(files, filesBefore(out, inputs));
  if (clash !== undefined) return usage(clash);
  const closed = out === undefined ? undefined : (madeFolder(out) ?? madeFolder(join(out, TASKS)));
  if (closed !== undefined) return refused([closed], flags);
  const ran = await run(inputs, shared, flags);
  showLine('');
  if (ran.kind !== 'done' || ran.value.kind !== 'planned') return unfinished(ran, flags);
  return finished(inputs, ran.value, ran.counts, files, flags);
}

function run(
  inputs: FamilyInputs,
  shared: SharedByTasks,
  { out, threads: asked, samples, seed, quick }: FamilyFlags,
): Promise<FamilyRun<FamilyOutcome>> {
  const threads = asked === undefined ? availableParallelism() : sensibleThreads(asked);
  const pool = new FamilyPool(threads, shared);
  return runTasks(
    (task, stopRequested) =>
      planReadFamily(inputs, task, {
        ...{ stopRequested, samples, seed, quick },
        files: out === undefined ? undefined : filesOfVariants,
        onProgress: (progress) => showProgress(progress, threads),
      }),
    {
      run: (task) => pool.run(task),
      stop: () => pool.close(),
      store:
        out === undefined ? undefined : new FamilyStore(join(out, TASKS), { ...shared, build: buildMark() }),
    },
  );
}

function showProgress({ phase, asked, done, patterns }: FamilyProgress, threads: number): void {
  const what = phase === 'variants' ? 'variants' : 'places in the ranges';
  const running = Math.min(threads, asked - done);
  showLine(
    `${what}: ${amount(done)} of ${counted(asked, 'plan')}, ${amount(running)} running; ${counted(patterns, 'pattern')} so far`,
  );
}

function unfinished(ran: FamilyRun<FamilyOutcome>, flags: FamilyFlags): ExitCode {
  switch (ran.kind) {
    case 'failed':
      return refused([ran.issue], flags);
    case 'defect': {
      const { task, error } = ran;
      const told = error instanceof Error ? error.message : String(error);
      process.stderr.write(
        `A defect of Tackwright, please report it: variant ${plain(task.variant.name)}: ${plain(told)}\n`,
      );
      return EXIT.defect;
    }
    default: {
      const kept =
        flags.out === undefined
          ? 'nothing is kept without --out'
          : `${counted(ran.counts.done, 'plan')} kept in ${join(flags.out, TASKS)}; the same call goes on from there`;
      process.stderr.write(`interrupted: ${kept}\n`);
      return EXIT.interrupted;
    }
  }
}

/** Prints and writes what was planned. */
function finished(
  { family }: FamilyInputs,
  planned: Planned,
  counts: TaskCounts,
  inputs: readonly string[],
  flags: FamilyFlags,
): ExitCode {
  const { out } = flags;
  const files = out === undefined ? [] : filesOfFamily(out, family, planned);
  const clash = clashOf(inputs, files);
  if (clash !== undefined) return usage(clash);
  const issue = out === undefined ? undefined : written(out, files);
  if (issue !== undefined) return refused([issue], flags);
  process.stdout.write(flags.json === true ? canonicalText(planned.result) : familyText(planned.result));
  if (out !== undefined && flags.json !== true) {
    const before = counts.taken === 0 ? '' : `, ${amount(counts.taken)} of them there before`;
    process.stdout.write(
      `Written: ${out} (${counted(files.length, 'file')}; ${counted(counts.done, 'plan')} asked for${before})\n`,
    );
  }
  return codeOf(planned.result);
}

/** Writes all files or none; the issue that stopped it. */
function written(out: string, files: readonly WantedFile[]): Issue | undefined {
  const closed = madeFolder(join(out, VARIANTS));
  if (closed !== undefined) return closed;
  const all = writeAll(files);
  return all.ok ? undefined : all.error;
}

/** Bad input of any variant comes first; where nothing is built, why; else what is built counts. */
function codeOf({ variants, covering }: FamilyResult): ExitCode {
  const asked = variants.filter(({ source }) => source === 'variant');
  if (asked.some(({ outcome }) => outcome === 'bad-input')) return EXIT.badInput;
  if (covering.chosen.length > 0) return EXIT.done;
  return asked.every(({ outcome }) => outcome === 'impossible') ? EXIT.impossible : EXIT.noneFound;
}

function refused(issues: readonly Issue[], { json }: FamilyFlags): ExitCode {
  if (json === true) process.stdout.write(canonicalText({ kind: 'bad-input', issues }));
  else process.stderr.write(issuesText(issues));
  return EXIT.badInput;
}

function usage(line: string): ExitCode {
  process.stderr.write(`${line}\n`);
  return EXIT.usage;
}

/** The files whose names are known before anything is planned. */
function filesBefore(out: string, { family }: FamilyInputs): readonly { readonly file: string }[] {
  const names = family.variants.map(({ name }) => name);
  const { weldment, plan } = filesOfVariants(names);
  const each = names.flatMap((name) => [weldment(name), plan(name, undefined)]);
  return ['family.json', 'family.html', 'variants.csv', 'matrix.csv', ...each].map((file) => ({
    file: join(out, file),
  }));
}

const clashOf = (
  inputs: readonly string[],
  files: readonly { readonly file: string }[],
): string | undefined => {
  for (const { file } of files)
    for (const input of inputs)
      if (sameFile(file, input)) return `${file} would overwrite the input ${input}`;
  return undefined;
};
