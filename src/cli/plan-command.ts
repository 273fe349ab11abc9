import type { SearchProgress } from '../algorithms/problem.js';
import { canonicalText } from '../io/canonical.js';
import { issueLine, type Issue } from '../model/issue.js';
import { findingsText, issuesText } from '../report/findings-text.js';
import { tradeText } from '../report/trade-text.js';
import { planText } from '../report/plan-text.js';
import { impossibleText } from '../report/impossible-text.js';
import { noneFoundText } from '../report/none-found-text.js';
import { clipped, plain } from '../report/plain.js';
import { remediesText } from '../report/remedies-text.js';
import { apartText } from '../report/whole-text.js';
import { warmStartText } from '../report/warm-start-text.js';
import { readTradedTerms } from '../planning/traded-terms.js';
import type { Source } from '../session/inputs.js';
import type { PlanOutcome } from '../session/plan.js';
import type { RemedyProgress } from '../session/remedies/search.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readCellSource } from './cell-source.js';
import { readSource, sameFile, unwritable, writeWhole } from './files.js';
import type { PlanJob, PlanMessage } from './plan-worker.js';
import { showLine, stoppableThread } from './stoppable-thread.js';

export interface PlanFlags {
  readonly cell?: string;
  readonly settings?: string;
  readonly out?: string;
  readonly from?: string;
  readonly seed?: number;
  readonly steps?: number;
  readonly seconds?: number;
  readonly trade?: string;
  readonly weld?: boolean;
  /** False with `--no-remedies`. */
  readonly remedies?: boolean;
  readonly json?: boolean;
}

/** `tackwright plan`: reads the files, plans on a thread that an interrupt can stop, prints and writes. */
export async function planCommand(weldment: string, flags: PlanFlags): Promise<ExitCode> {
  const trade = flags.trade === undefined ? undefined : readTradedTerms(flags.trade);
  if (trade?.ok === false) {
    process.stderr.write(`--trade: ${trade.error}\n`);
    return EXIT.usage;
  }
  const files = [weldment, flags.cell, flags.settings, flags.from].filter((file) => file !== undefined);
  const cell = flags.cell === undefined ? undefined : readCellSource(flags.cell);
  const clash = [...files, ...(cell?.files ?? [])].find(
    (file) => flags.out !== undefined && sameFile(file, flags.out),
  );
  if (clash !== undefined) {
    process.stderr.write(`--out ${flags.out} would overwrite the input ${clash}\n`);
    return EXIT.usage;
  }
  const read = files.map((file) => (file === flags.cell ? cell!.source : readSource(file)));
  const closed = flags.out === undefined ? undefined : unwritable(flags.out);
  const missing = [
    ...read.flatMap((source) => (source.ok ? [] : [source.error])),
    ...(closed ? [closed] : []),
  ];
  if (missing.length > 0) return report({ kind: 'bad-input', issues: missing }, flags, false);
  const source = (file: string | undefined): Source | undefined =>
    file === undefined ? undefined : (read[files.indexOf(file)] as { value: Source }).value;
  const stop = new SharedArrayBuffer(4);
  const outcome = await runJob({
    sources: { weldment: source(weldment)!, cell: source(flags.cell), settings: source(flags.settings) },
    seed: flags.seed,
    steps: flags.steps,
    seconds: flags.seconds,
    trade: trade?.value,
    weld: flags.weld === true,
    from: source(flags.from),
    remedies: flags.remedies !== false,
    stop,
  });
  return report(outcome, flags, Atomics.load(new Int32Array(stop), 0) !== 0);
}

/** Runs the planning thread. */
const runJob = (job: PlanJob): Promise<PlanOutcome> =>
  stoppableThread(
    new URL('./plan-worker.js', import.meta.url),
    job,
    'the best plan so far is kept',
    (message: PlanMessage) => {
      if (message.kind === 'outcome') return message.outcome;
      if (message.kind === 'progress') showProgress(message.progress);
      else showRemedy(message.progress);
      return undefined;
    },
  );

function showProgress({ steps, best, bound }: SearchProgress): void {
  const shown = (cost: readonly number[] | undefined): string =>
    cost === undefined ? 'none yet' : cost.map((x) => (Number.isFinite(x) ? x : '-')).join(' / ');
  showLine(`${steps} states, best ${shown(best)}, bound ${shown(bound)}`);
}

/** The same while remedies are tried. */
const showRemedy = ({ tries, most, words }: RemedyProgress): void =>
  showLine(clipped(`no plan; trying what would help, ${tries + 1} of ${most}: ${plain(words)}`, 100));

function report(outcome: PlanOutcome, flags: PlanFlags, interrupted: boolean): ExitCode {
  const written =
    outcome.kind === 'planned' && flags.out !== undefined ? writePlan(outcome, flags.out) : undefined;
  if (flags.json === true)
    process.stdout.write(canonicalText(written ? { kind: 'bad-input', issues: [written] } : outcome));
  else printText(outcome, flags, written);
  if (written) return EXIT.badInput;
  if (interrupted) return EXIT.interrupted;
  return CODES[outcome.kind];
}

const writePlan = (outcome: PlanOutcome & { kind: 'planned' }, out: string): Issue | undefined => {
  const result = writeWhole(out, canonicalText(outcome.plan));
  return result.ok ? undefined : result.error;
};

const CODES: Readonly<Record<PlanOutcome['kind'], ExitCode>> = {
  planned: EXIT.done,
  'bad-input': EXIT.badInput,
  impossible: EXIT.impossible,
  'none-found': EXIT.noneFound,
  defect: EXIT.defect,
};

function printText(outcome: PlanOutcome, flags: PlanFlags, written: Issue | undefined): void {
  if ('warnings' in outcome && outcome.kind !== 'planned') process.stderr.write(issuesText(outcome.warnings));
  switch (outcome.kind) {
    case 'planned':
      process.stdout.write(
        planText(outcome.plan, outcome.contacts === undefined ? {} : { contacts: outcome.contacts }),
      );
      if (outcome.start) process.stdout.write(`${warmStartText(outcome.start)}\n`);
      if (outcome.trade) process.stdout.write(`\n${tradeText(outcome.trade, outcome.plan)}`);
      if (written) process.stderr.write(`${issueLine(written)}\n`);
      else if (flags.out !== undefined) process.stdout.write(`Written: ${flags.out}\n`);
      if (flags.weld === true && outcome.plan.kind === 'abstract')
        process.stderr.write('No weld order told: a weldment without shapes has none.\n');
      break;
    case 'bad-input':
      process.stderr.write(issuesText(outcome.issues));
      break;
    case 'impossible':
      process.stdout.write(apartText(outcome));
      process.stdout.write(impossibleText(outcome.scope, outcome, outcome.also, outcome.mayBeMore));
      if (outcome.remedies && outcome.remedySearch)
        process.stdout.write(remediesText({ ...outcome.remedySearch, remedies: outcome.remedies }));
      else if (flags.remedies !== false)
        process.stdout.write(
          'What would help was not tried: that is done for weldments in one piece. Plan it once with `sub-assemblies: off`.\n',
        );
      break;
    case 'none-found':
      process.stdout.write(apartText(outcome));
      process.stdout.write(noneFoundText(outcome));
      break;
    case 'defect':
      process.stderr.write(
        `Tackwright made a plan that breaks its own rules and did not write it. This is a defect of Tackwright:\n${findingsText(outcome.findings)}`,
      );
      break;
  }
}
