import type { Plan, PlanHead, Proof } from '../../model/plan.js';
import type { Term } from '../difference/objective.js';

/** What a plan is worth and what is proved of it. */
export interface Worth {
  readonly objective: PlanHead['objective'];
  readonly provedTerms: Proof['provedTerms'];
}

/** A term of which the plan with the wish has another value. */
export interface TermPrice {
  readonly term: Term;
  readonly given: number;
  readonly wished: number;
}

/** What a wish costs: the plan that was given against the best one found with the wish. */
export interface Price {
  /** Every term that differs, in the order of the objective: the first of them decides. Empty: the wish costs nothing. */
  readonly terms: readonly TermPrice[];
  /** Whether no plan with the wish has less of the deciding term, the terms before it being equal. */
  readonly exact: boolean;
  /**
   * How much more of the deciding term every plan with the wish has than the given one, at least, the terms before it
   * being equal; null where nothing is proved of it, or where a term before it is not proved least.
   */
  readonly atLeast: number | null;
}

export const worthOf = ({ objective, proof: { provedTerms } }: Plan): Worth => ({ objective, provedTerms });

/** What the search came to before it put tacks in another order; the plan itself where it did not. */
export const searchedWorth = (plan: Plan): Worth => plan.proof.beforeReordering ?? worthOf(plan);

/** A bound of a term is one only where every term before it is proved least. */
const boundAt = ({ objective, provedTerms }: Worth, place: number): number =>
  place <= provedTerms.length ? objective[place]!.bound : -Infinity;

/**
 * Compares term by term. Whatever is proved of all plans is true of those with the wish too, so that the greater of both
 * bounds counts.
 */
export function priceOf(given: Worth, wished: Worth): Price {
  const place = given.objective.findIndex(({ value }, i) => value !== wished.objective[i]!.value);
  if (place < 0) return { terms: [], exact: true, atLeast: 0 };
  const terms = given.objective.flatMap(({ term, value }, i): TermPrice[] => {
    const other = wished.objective[i]!.value;
    return value === other ? [] : [{ term, given: value, wished: other }];
  });
  const bound = Math.max(boundAt(given, place), boundAt(wished, place));
  const more = bound - given.objective[place]!.value;
  return {
    terms,
    exact: bound >= wished.objective[place]!.value,
    atLeast: more > 0 ? more : null,
  };
}
