import { same } from '../explain/difference/sides.js';
import type { Answer } from '../explain/why/answer.js';
import { askedOf } from '../explain/why/opposite.js';
import type { Issue } from '../model/issue.js';
import type { Plan } from '../model/plan.js';

/** Answers that are not about this plan: it knows nothing of what was asked, or has it otherwise. */
export function strangeAnswers(plan: Plan, answers: readonly Answer[], file: string): readonly Issue[] {
  return answers.flatMap(({ question, has }, i): Issue[] => {
    const asked = askedOf(plan, question);
    if ('has' in asked && same(asked.has, has)) return [];
    return [
      {
        ...{ code: 'other-plan', severity: 'error', file, line: 0, path: `answers[${i}]` },
        problem: 'answers a question about another plan',
        remedy: 'ask about this one with `tackwright why --json`',
      },
    ];
  });
}

/** Answers that were given, then those found beside them to questions that were not among them. */
export const allAnswers = (given: readonly Answer[], quick: readonly Answer[]): readonly Answer[] => [
  ...given,
  ...quick.filter(({ question }) => !given.some((one) => same(one.question, question))),
];
