import type { Question } from '../explain/why/question.js';
import { canonicalText } from '../io/canonical.js';
import { findingsText, issuesText } from '../report/findings-text.js';
import { counted } from '../report/numbers.js';
import { clipped } from '../report/plain.js';
import { answersText, questionText } from '../report/why-text.js';
import type { WhyOutcome, WhyProgress } from '../session/why.js';
import { readCellSource } from './cell-source.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import { readSource } from './files.js';
import { showLine, stoppableThread } from './stoppable-thread.js';
import type { WhyJob, WhyMessage } from './why-worker.js';

export interface WhyFlags {
  readonly weldment: string;
  readonly cell?: string;
  /** Two names for each question. */
  readonly before?: readonly string[];
  readonly grip?: readonly string[];
  readonly regrip?: readonly string[];
  readonly tack?: readonly string[];
  readonly hold?: readonly string[];
  readonly notFirst?: readonly string[];
  readonly steps?: number;
  readonly seconds?: number;
  readonly json?: boolean;
}

/** `tackwright why`: answers each question about a plan, in sentences or as data, on a thread that an interrupt can stop. */
export async function whyCommand(plan: string, flags: WhyFlags): Promise<ExitCode> {
  if ((flags.before?.length ?? 0) % 2 !== 0)
    return usage('--before: name two parts, first the one that joins first');
  const questions = questionsOf(flags);
  if (questions.length === 0)
    return usage('ask something: --before A B, --grip P, --regrip P, --tack T, --hold S or --not-first P');
  const outcome = await asked(plan, questions, flags);
  if (flags.json === true) process.stdout.write(canonicalText(told(outcome)));
  else print(outcome);
  return codeOf(outcome);
}

/** The outcome as data, without the plan that was given. */
function told(outcome: WhyOutcome): object {
  if (outcome.kind !== 'answered') return outcome;
  const { kind, answers, issues, left } = outcome;
  return { kind, answers, ...(issues.length > 0 && { issues }), ...(left > 0 && { left }) };
}

function usage(line: string): ExitCode {
  process.stderr.write(`${line}\n`);
  return EXIT.usage;
}

function questionsOf(flags: WhyFlags): Question[] {
  const { before = [], grip = [], regrip = [], tack = [], hold = [], notFirst = [] } = flags;
  return [
    ...before.flatMap((first, i): Question[] =>
      i % 2 === 0 ? [{ ask: 'before', first, second: before[i + 1]! }] : [],
    ),
    ...grip.map((part): Question => ({ ask: 'grip', part })),
    ...regrip.map((part): Question => ({ ask: 'regrip', part })),
    ...tack.map((id): Question => ({ ask: 'tack', tack: id })),
    ...hold.map((stage): Question => ({ ask: 'hold', stage })),
    ...notFirst.map((part): Question => ({ ask: 'not-first', part })),
  ];
}

async function asked(plan: string, questions: readonly Question[], flags: WhyFlags): Promise<WhyOutcome> {
  const read = [readSource(plan), readSource(flags.weldment)];
  const cell = flags.cell === undefined ? undefined : readCellSource(flags.cell).source;
  const [planText, weldment] = read as [(typeof read)[0], (typeof read)[0]];
  if (!planText.ok || !weldment.ok || cell?.ok === false) {
    const issues = [planText, weldment, cell].flatMap((one) =>
      one === undefined || one.ok ? [] : [one.error],
    );
    return { kind: 'bad-input', issues };
  }
  const { steps, seconds } = flags;
  return runJob({
    plan: planText.value,
    sources: { weldment: weldment.value, cell: cell?.value },
    ...{ questions, steps, seconds },
    stop: new SharedArrayBuffer(4),
  });
}

/** Runs the thread that answers. */
const runJob = (job: WhyJob): Promise<WhyOutcome> =>
  stoppableThread(
    new URL('./why-worker.js', import.meta.url),
    job,
    'the answers so far are told',
    (message: WhyMessage) => {
      if (message.kind === 'outcome') return message.outcome;
      showProgress(message.progress);
      return undefined;
    },
  );

const showProgress = ({ question, done, of }: WhyProgress): void =>
  showLine(clipped(`question ${done + 1} of ${of}: ${questionText(question)}`, 100));

function print(outcome: WhyOutcome): void {
  switch (outcome.kind) {
    case 'answered':
      process.stdout.write(answersText(outcome.answers));
      process.stderr.write(issuesText(outcome.issues));
      if (outcome.left > 0) process.stderr.write(`${counted(outcome.left, 'question')} left unanswered\n`);
      break;
    case 'bad-input':
      process.stderr.write(issuesText(outcome.issues));
      break;
    case 'ill-founded':
      process.stdout.write(findingsText(outcome.findings));
      break;
    case 'defect':
      process.stderr.write(
        `Tackwright made a plan that breaks its own rules. This is a defect of Tackwright:\n${findingsText(outcome.findings)}`,
      );
      break;
  }
}

function codeOf(outcome: WhyOutcome): ExitCode {
  switch (outcome.kind) {
    case 'answered':
      if (outcome.left > 0) return EXIT.interrupted;
      if (outcome.issues.length > 0) return EXIT.badInput;
      return outcome.answers.some(({ verdict: { kind } }) => kind === 'unknown' || kind === 'open')
        ? EXIT.noneFound
        : EXIT.done;
    case 'bad-input':
      return EXIT.badInput;
    case 'ill-founded':
      return EXIT.ruleBroken;
    case 'defect':
      return EXIT.defect;
  }
}
