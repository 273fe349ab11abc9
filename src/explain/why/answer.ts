import type { Refusal } from '../../model/verdict.js';
import type { Plan } from '../../model/plan.js';
import type { Wish } from '../../model/wish.js';
import { differenceOf, type PlanDifference } from '../difference/difference.js';
import type { Holds } from './holds.js';
import type { OpenVerdict } from './open.js';
import type { Has } from './opposite.js';
import { priceOf, searchedWorth, worthOf, type Price, type Worth } from './price.js';
import type { Question } from './question.js';

/** The plan against the best one found that has it otherwise. */
export interface Weighed {
  readonly given: Worth;
  readonly wished: Worth;
  readonly price: Price;
  /** The same before tacks were put in an order that distorts less, where that changed what one of the plans is worth. */
  readonly searched?: Price;
  /** What else is different with the wish: `a` is the plan, `b` the other. */
  readonly difference: PlanDifference;
}

/** What rules out, with others, that a plan has it otherwise; and where that holds, if not everywhere. */
export type Reason = Refusal & { readonly holds?: Holds };

/** Why a plan is as it is. */
export type Verdict =
  /** It is not so. */
  | { readonly kind: 'not-so' }
  /** No plan has it otherwise: by the files alone, whatever the candidates, or among the candidates considered. */
  | {
      readonly kind: 'forced';
      readonly scope: 'file' | 'any' | 'candidates';
      readonly reasons: readonly Reason[];
    }
  /** The same among the orders that were judged: so many there are, and each was refused when it was judged as a whole. */
  | {
      readonly kind: 'forced-in-orders';
      readonly refused: number;
      /** Most frequent first. */
      readonly reasons: readonly Refusal[];
    }
  /** Otherwise it would cost more. */
  | ({ readonly kind: 'choice' } & Weighed)
  /** Otherwise it would cost the same. */
  | ({ readonly kind: 'equal' } & Weighed)
  /** Otherwise it would cost less: the plan is not the best one. */
  | ({ readonly kind: 'better' } & Weighed)
  /** The budget ended before a plan that has it otherwise was found, and before it was proved that there is none. */
  | OpenVerdict;

export interface Answer {
  readonly question: Question;
  readonly has: Has;
  /** The opposite, as it was wished; absent where the plan does not have what was asked about. */
  readonly wish?: Wish;
  readonly verdict: Verdict;
}

/** What a plan that keeps the opposite wish says of the plan given. */
export function weighed(given: Plan, other: Plan): Verdict {
  const price = priceOf(worthOf(given), worthOf(other));
  const reordered = [given, other].some(({ proof }) => proof.beforeReordering !== undefined);
  const { settings, wishes, ...difference } = differenceOf(given, other);
  const [first] = price.terms;
  const kind = first === undefined ? 'equal' : first.wished > first.given ? 'choice' : 'better';
  return {
    kind,
    given: worthOf(given),
    wished: worthOf(other),
    price,
    ...(reordered && { searched: priceOf(searchedWorth(given), searchedWorth(other)) }),
    // The wish itself and the budget are no part of the answer.
    difference: {
      ...difference,
      settings: settings.filter(({ what }) => what !== 'wishes' && !what.startsWith('budget.')),
      wishes: wishes.filter((one) => one.a !== null),
    },
  };
}
