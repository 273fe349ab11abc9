import type { Limit } from '../model/family-result.js';
import { issueLine, type Issue } from '../model/issue.js';
import type { Refusal } from '../model/verdict.js';
import { counted } from '../report/numbers.js';
import { missText, reasonText } from '../report/reason-text.js';
import { wishText } from '../report/wish-text.js';
import type { PlanOutcome } from '../session/plan.js';

/** An outcome that is no plan, but for what is our own mistake. */
export type Unplanned = Exclude<PlanOutcome, { readonly kind: 'planned' | 'defect' }>;

/** Reasons at most of those for which whole orders fell, or of those against a part: the most frequent come first. */
const MOST = 5;

/** What stands against a plan, as data and sentences; of wishes from the `own`th on it is said that a pattern asks for them. */
export function limitsOf(outcome: Unplanned, own = Infinity): readonly Limit[] {
  switch (outcome.kind) {
    case 'bad-input':
      return limitsOfText(outcome.issues);
    case 'impossible':
      return outcome.reasons.map((reason) => limitOf(reason, own));
    case 'none-found': {
      const left = (outcome.deepest?.left ?? []).flatMap(({ reasons }) => reasons.slice(0, MOST));
      const limits = [...outcome.reasons.slice(0, MOST), ...left].map((reason) => limitOf(reason, own));
      return outcome.exhausted ? limits : [outOfBudget(outcome.states), ...limits];
    }
  }
}

/** An issue as what keeps a weldment from being planned. */
export const limitOfIssue = (issue: Issue): Limit => ({
  ...{ code: issue.code, subjects: issue.path === '' ? [] : [issue.path] },
  text: issueLine(issue),
});

/** Errors about the text that a variant was made into: its lines are those of no file that anybody wrote. */
export const limitsOfText = (issues: readonly Issue[]): readonly Limit[] =>
  issues.filter(({ severity }) => severity === 'error').map((issue) => limitOfIssue({ ...issue, line: 0 }));

const outOfBudget = (states: number): Limit => ({
  ...{ code: 'budget-ended', subjects: [], value: states },
  text: `no plan was found before the budget ended, ${counted(states, 'state')} looked at: this is no proof that there is none`,
});

/** A refusal with its nearest miss, which has the numbers. */
export function limitOf(reason: Refusal, own = Infinity): Limit {
  const { code, subjects, fact, nearest } = reason;
  const numbered = reason.value === undefined && nearest !== undefined ? nearest : reason;
  const { value, limit } = numbered.value === undefined && numbered.nearest ? numbered.nearest : numbered;
  const asked = fact?.kind === 'wish' && fact.wish! >= own ? fact.wished : undefined;
  return {
    ...{ code, subjects: [...subjects] },
    ...(value !== undefined && Number.isFinite(value) && { value }),
    ...(limit !== undefined && Number.isFinite(limit) && { limit }),
    text: asked ? `the pattern asks that ${wishText(asked)}` : `${reasonText(reason)}${missOf(reason)}`,
  };
}

const missOf = ({ nearest }: Refusal): string => (nearest ? `; nearest miss: ${missText(nearest)}` : '');
