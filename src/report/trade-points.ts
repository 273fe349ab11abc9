import { canonicalText } from '../io/canonical.js';
import type { Plan } from '../model/plan.js';
import { objectiveTermSchema, type ObjectiveTerm } from '../model/settings.js';
import { plain } from './plain.js';
import { termValue, type TradedPlans } from './trade-text.js';

/** A plan by two terms of its objective. */
export interface TradePoint {
  /** From 1, in the order of the trade; 0: the plan that is shown, where the trade does not have it. */
  readonly number: number;
  readonly values: readonly [number, number];
  /** The other terms of its objective, those of `TradePoints.others`. */
  readonly others: readonly number[];
  /** Whether it is the plan that is shown. */
  readonly own: boolean;
  /** Parts in the order in which they join. */
  readonly order: string;
}

/** What is drawn of a trade. */
export interface TradePoints {
  readonly terms: readonly [ObjectiveTerm, ObjectiveTerm];
  /** Terms beside the two in which the points differ: a plan that looks better in both may be worse in these. */
  readonly others: readonly ObjectiveTerm[];
  readonly completed: number;
  readonly points: readonly TradePoint[];
}

/** The plans of a trade as points, and the plan that is shown among them or beside them. */
export function tradePoints({ terms, completed, plans }: TradedPlans, shown: Plan): TradePoints {
  const same = canonicalText(shown);
  const others = objectiveTermSchema.options.filter((term) => {
    const values = [...plans, shown].map((plan) => termValue(plan, term));
    return !terms.includes(term) && !values.includes(undefined) && new Set(values).size > 1;
  });
  const pointOf = (plan: Plan, number: number): TradePoint[] => {
    const [first, second] = terms.map((term) => termValue(plan, term));
    if (first === undefined || second === undefined) return [];
    const own = number === 0 || canonicalText(plan) === same;
    const order = plan.stages.map(({ part }) => plain(part)).join(', ');
    return [
      { number, values: [first, second], others: others.map((term) => termValue(plan, term)!), own, order },
    ];
  };
  const points = plans.flatMap((plan, i) => pointOf(plan, i + 1));
  const beside = points.some(({ own }) => own) ? [] : pointOf(shown, 0);
  return { terms, others, completed, points: [...points, ...beside] };
}
