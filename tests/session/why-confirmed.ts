import { expect } from 'vitest';
import type { LinearPrograms } from '../../src/algorithms/linear-program.js';
import { seededRandom } from '../../src/base/random.js';
import type { Answer } from '../../src/explain/why/answer.js';
import type { Question } from '../../src/explain/why/question.js';
import { canonicalText } from '../../src/io/canonical.js';
import type { Plan } from '../../src/model/plan.js';
import { keepsWish } from '../../src/rules/wish-kept.js';
import { abstractWishStages, wishStages } from '../../src/rules/wishes-true.js';
import { checkPlan } from '../../src/session/check.js';
import type { Sources } from '../../src/session/inputs.js';
import { planInputs, type PlanOutcome } from '../../src/session/plan.js';
import { whySession } from '../../src/session/why.js';

/** What a plan answers to questions about it, and the other plan of each question that was planned. */
export interface Told {
  readonly answers: readonly Answer[];
  readonly others: ReadonlyMap<Question, Plan>;
}

/** Asks about a plan; every question must be answered. */
export function askedAll(
  plan: Plan,
  sources: Omit<Sources, 'settings'>,
  questions: readonly Question[],
  programs: LinearPrograms,
): Told {
  const outcomes = new Map<string, PlanOutcome>();
  const outcome = whySession({ text: canonicalText(plan), name: 'p.json' }, sources, questions, {
    programs,
    plan: (inputs, options) => {
      const other = planInputs(inputs, options);
      outcomes.set(JSON.stringify(inputs.settings.wishes!.at(-1)), other);
      return other;
    },
  });
  if (outcome.kind !== 'answered') throw new Error(JSON.stringify(outcome));
  const { answers } = outcome;
  expect(answers.map(({ question }) => question)).toEqual(questions);
  const others = answers.flatMap(({ question, wish }): [Question, Plan][] => {
    const other = outcomes.get(JSON.stringify(wish));
    return other?.kind === 'planned' ? [[question, other.plan]] : [];
  });
  return { answers, others: new Map(others) };
}

/** That an answer is one, and its price what two plans differ by, of which the other passes every rule as it is read back. */
export function confirmAnswer(
  given: Plan,
  sources: Omit<Sources, 'settings'>,
  { question, wish, verdict }: Answer,
  { others }: Told,
  programs: LinearPrograms,
): void {
  const about = JSON.stringify(question);
  expect(['forced', 'choice', 'equal', 'better'], about).toContain(verdict.kind);
  const other = others.get(question);
  expect(other === undefined, about).toBe(verdict.kind === 'forced');
  if (!('price' in verdict) || other === undefined) return;
  const stages = other.kind === 'geometric' ? wishStages(other) : abstractWishStages(other);
  expect(keepsWish(wish!, stages), about).toBe(true);
  const judged = checkPlan({ text: canonicalText(other), name: 'other.json' }, sources, programs);
  expect(judged, about).toMatchObject({ kind: 'judged', findings: [] });
  const differing = given.objective.flatMap(({ term, value }, i) => {
    const wished = other.objective[i]!.value;
    return value === wished ? [] : [{ term, given: value, wished }];
  });
  expect(verdict.price.terms, about).toEqual(differing);
}

/** Some of many, drawn by a seed, in their order. */
export function drawn<T>(all: readonly T[], count: number, seed: number): readonly T[] {
  const random = seededRandom(seed);
  const left = [...all.keys()];
  const places = Array.from({ length: Math.min(count, left.length) }, () =>
    left.splice(Math.floor(random() * left.length), 1),
  );
  return places
    .flat()
    .sort((a, b) => a - b)
    .map((place) => all[place]!);
}
