import type { Answer, Verdict } from '../explain/why/answer.js';
import { askedOf, type Asked } from '../explain/why/opposite.js';
import type { Question } from '../explain/why/question.js';
import { readPlan } from '../io/read-plan.js';
import type { Finding } from '../model/finding.js';
import type { Issue } from '../model/issue.js';
import type { Plan } from '../model/plan.js';
import { findingsOf, inputFindings } from './check.js';
import { readInputs, type Source, type Sources } from './inputs.js';
import { mainInputs } from './sub-assemblies/main-inputs.js';
import { issueOf } from './why-issues.js';
import { OtherPlans, type OtherPlanOptions, type Unjudged } from './why-other.js';

/** What asking came to. */
export type WhyOutcome =
  | {
      readonly kind: 'answered';
      readonly plan: Plan;
      /** An answer for each question that the plan can be asked, in their order. */
      readonly answers: readonly Answer[];
      /** What is wrong with the others. */
      readonly issues: readonly Issue[];
      /** How many questions were left when a stop was asked for. */
      readonly left: number;
    }
  | { readonly kind: 'bad-input'; readonly issues: readonly Issue[] }
  /** The plan is for other files, or breaks a rule: what it costs cannot be compared. */
  | { readonly kind: 'ill-founded'; readonly findings: readonly Finding[] }
  /** A plan of ours breaks a rule. */
  | { readonly kind: 'defect'; readonly findings: readonly Finding[] };

/** How far a session has come. */
export interface WhyProgress {
  readonly question: Question;
  /** Questions before it, and all of them. */
  readonly done: number;
  readonly of: number;
}

export interface WhyOptions extends OtherPlanOptions {
  readonly onProgress?: ((progress: WhyProgress) => void) | undefined;
}

/**
 * Answers why a plan is as it is. Each question becomes the opposite as a hard wish, which is planned with the settings
 * of the plan, its budget among them. What is answered does not depend on what else is asked.
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
  if (untold.length > 0 && untold.length === questions.length) return { kind: 'bad-input', issues: untold };
  const main = mainInputs(given, inputs);
  const others = new OtherPlans(given, { ...main, settings: given.settings }, options);
  const told = answerAll(others, asked, options);
  return 'kind' in told ? told : { kind: 'answered', plan: given, ...told, issues: untold };
}

/** The answers, until a stop is asked for; a question that was being planned then is left too. */
function answerAll(
  others: OtherPlans,
  all: readonly { readonly question: Question; readonly asked: Asked }[],
  { stopRequested, onProgress }: WhyOptions,
): Unjudged | Pick<WhyOutcome & { kind: 'answered' }, 'answers' | 'left'> {
  const told = all.filter(({ asked: { kind } }) => kind === 'opposite' || kind === 'not-so');
  const answers: Answer[] = [];
  for (const [done, { question, asked }] of told.entries()) {
    onProgress?.({ question, done, of: told.length });
    const verdict: Verdict | Unjudged =
      asked.kind === 'opposite' ? others.verdict(question, asked.wish) : { kind: 'not-so' };
    if (verdict.kind === 'bad-input' || verdict.kind === 'defect') return verdict;
    if (stopRequested?.() === true) return { answers, left: told.length - done };
    if (asked.kind === 'opposite') answers.push({ question, has: asked.has, wish: asked.wish, verdict });
    if (asked.kind === 'not-so') answers.push({ question, has: asked.has, verdict });
  }
  return { answers, left: 0 };
}
