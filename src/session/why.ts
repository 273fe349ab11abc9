import type { LinearPrograms } from '../algorithms/linear-program.js';
import { weighed, type Answer, type Verdict } from '../explain/why/answer.js';
import { askedOf, type Asked } from '../explain/why/opposite.js';
import type { Question } from '../explain/why/question.js';
import type { Facts } from '../facts/facts.js';
import { nearestWord } from '../io/nearest-word.js';
import { readPlan } from '../io/read-plan.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import type { Plan } from '../model/plan.js';
import type { Settings } from '../model/settings.js';
import { wishesOf, type Wish } from '../model/wish.js';
import type { Refusal } from '../model/verdict.js';
import { factsOf } from '../planning/plan.js';
import { findingsOf, inputFindings } from './check.js';
import { readInputs, type Inputs, type Source, type Sources } from './inputs.js';
import { planInputs, type PlanOutcome, type PlanSessionOptions } from './plan.js';
import { quickVerdict } from './why-facts.js';

/** What asking came to: an answer for each question, in their order. */
export type WhyOutcome =
  | { readonly kind: 'answered'; readonly plan: Plan; readonly answers: readonly Answer[] }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }
  /** The plan is for other files, or breaks a rule: what it costs cannot be compared. */
  | { readonly kind: 'ill-founded'; readonly findings: readonly Finding[] }
  /** A plan of ours breaks a rule. */
  | { readonly kind: 'defect'; readonly findings: readonly Finding[] };

export interface WhyOptions extends Pick<
  PlanSessionOptions,
  'steps' | 'seconds' | 'clock' | 'stopRequested'
> {
  readonly programs: LinearPrograms;
  /** Plans what was read with the opposite wish: `planInputs` unless another is given. */
  readonly plan?: (inputs: Inputs, options: PlanSessionOptions) => PlanOutcome;
}

/**
 * Answers why a plan is as it is. Each question becomes the opposite as a hard wish, which is planned with the settings
 * of the plan, in its step budget unless another is given.
 */
export function whySession(
  plan: Source,
  sources: Omit<Sources, 'settings'>,
  questions: readonly Question[],
  options: WhyOptions,
): WhyOutcome {
  const read = readPlan(plan.text, plan.name);
  const { inputs, issues } = readInputs(sources);
  if (!read.value || !inputs) return { kind: 'bad-input', issues: [...read.issues, ...issues] };
  const given = read.value;
  const mismatch = inputFindings(given, inputs);
  const findings = mismatch.length > 0 ? mismatch : findingsOf(given, inputs, options.programs);
  if (findings.length > 0) return { kind: 'ill-founded', findings };
  const asked = questions.map((question) => ({ question, asked: askedOf(given, question) }));
  const untold = asked.flatMap((one) => issueOf(one.asked, plan.name));
  if (untold.length > 0) return { kind: 'bad-input', issues: untold };
  return answerAll(given, { ...inputs, settings: given.settings }, asked, options);
}

function answerAll(
  given: Plan,
  inputs: Inputs,
  all: readonly { readonly question: Question; readonly asked: Asked }[],
  options: WhyOptions,
): WhyOutcome {
  const factsOnce = lazily(() => factsFor(inputs, options.programs));
  const answers: Answer[] = [];
  for (const { question, asked } of all) {
    if (asked.kind === 'not-so') answers.push({ question, has: asked.has, verdict: { kind: 'not-so' } });
    if (asked.kind !== 'opposite') continue;
    const { has, wish } = asked;
    const quick = quickVerdict(inputs, question, wish, factsOnce);
    const verdict = quick ?? plannedVerdict(given, inputs, wish, options);
    if (verdict.kind === 'bad-input' || verdict.kind === 'defect') return verdict;
    answers.push({ question, has, wish, verdict });
  }
  return { kind: 'answered', plan: given, answers };
}

/** The inputs with a further wish. */
const wishing = (inputs: Inputs, wish: Wish): Inputs => ({
  ...inputs,
  settings: { ...inputs.settings, wishes: [...(inputs.settings.wishes ?? []), wish] },
});

/** Only steps count, so that asking again gives the same answer; seconds are a limit where they are given now. */
function repeatable(settings: Settings): Settings {
  const { steps } = settings.budget;
  return { ...settings, budget: { steps } };
}

function plannedVerdict(
  given: Plan,
  inputs: Inputs,
  wish: Wish,
  { plan = planInputs, programs, steps, seconds, clock, stopRequested }: WhyOptions,
): Verdict | (WhyOutcome & { kind: 'bad-input' | 'defect' }) {
  const settings = repeatable(inputs.settings);
  const outcome = plan(wishing({ ...inputs, settings }, wish), {
    programs,
    steps,
    seconds,
    clock,
    stopRequested,
  });
  switch (outcome.kind) {
    case 'planned':
      return weighed(given, outcome.plan);
    case 'impossible':
      return { kind: 'forced', scope: outcome.scope, reasons: withoutAsked(outcome.reasons, inputs) };
    case 'none-found': {
      const { states, refused, reasons, exhausted } = outcome;
      return exhausted ? { kind: 'refused', refused, reasons } : { kind: 'unknown', states };
    }
    case 'bad-input':
    case 'defect':
      return outcome;
  }
}

/** The reasons without the wish that the question itself is: the one after all wishes of the inputs. */
function withoutAsked(reasons: readonly Refusal[], { weldment, settings }: Inputs): readonly Refusal[] {
  const asked = wishesOf(weldment, settings).length;
  return reasons.filter(({ fact }) => fact?.wish !== asked);
}

function factsFor({ weldment, cell, settings }: Inputs, programs: LinearPrograms): Facts | undefined {
  return weldment.kind === 'geometric' && cell ? factsOf(weldment, cell, settings, programs) : undefined;
}

/** Works a value out when it is first asked for. */
function lazily<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}

/** What is wrong with a question that the plan knows nothing to say about. */
function issueOf(asked: Asked, file: string): Issue[] {
  const at = { severity: 'error', file, line: 0, path: '' } as const;
  if (asked.kind === 'no-shapes')
    return [
      {
        ...at,
        code: 'no-shapes',
        problem: `the parts of the plan have no shapes, so that it has no ${asked.what} to ask about`,
        remedy: 'ask about --before, --not-first, --grip or --regrip',
      },
    ];
  if (asked.kind !== 'unknown') return [];
  const { what, name, known } = asked;
  const near = nearestWord(name, known);
  const some = known.length <= 12 ? `write one of ${known.join(', ')}` : `write one of its ${known.length}`;
  return [
    {
      ...at,
      code: `unknown-${what}`,
      problem: `the plan has no ${what} "${name}"`,
      remedy: near === undefined ? some : `perhaps "${near}" is meant`,
    },
  ];
}
