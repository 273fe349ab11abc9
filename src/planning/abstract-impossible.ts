import {
  minimalConflict,
  separateConflicts,
  type MinimalConflict,
  type Tested,
} from '../algorithms/minimal-conflict.js';
import { MOST_SETS } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import type { AbstractWeldment } from '../model/weldment.js';
import type { Wish } from '../model/wish.js';
import { anyOrder, orderFacts, orderMasks, type OrderFact } from './abstract-facts.js';
import { wishReason } from '../rules/wish-reason.js';
import type { Impossibility, ReasonSet } from './impossible.js';

/**
 * Minimal sets of facts that rule every order out and share none, each by itself enough; none when there is a legal order.
 * Order relations are kept rather than contacts. Whether facts leave an order is decided, so each is proved to be needed.
 */
export function abstractConflicts(
  weldment: AbstractWeldment,
  wishes: readonly Wish[] = weldment.wishes ?? [],
): readonly MinimalConflict<OrderFact>[] {
  const test = (facts: readonly OrderFact[]): Tested<OrderFact> =>
    anyOrder(orderMasks(weldment, facts)) === undefined ? facts : 'free';
  const all = orderFacts(weldment, wishes);
  return separateConflicts(MOST_SETS, (dropped: readonly OrderFact[]) =>
    minimalConflict(
      all.filter((fact) => !dropped.includes(fact)),
      test,
    ),
  );
}

/** The facts of `abstractConflicts` as reasons: the kind of fact, the part, and the other part it names. */
export function explainAbstract(
  weldment: AbstractWeldment,
  wishes: readonly Wish[] = weldment.wishes ?? [],
): Impossibility {
  const told = abstractConflicts(weldment, wishes).map(({ items, needed }): ReasonSet => ({
    reasons: items.map((fact) => reasonOf(weldment, fact)),
    needed,
  }));
  const [first = { reasons: [], needed: 0 }, ...also] = told;
  return { scope: 'any', ...first, also, mayBeMore: told.length === MOST_SETS };
}

/** All facts of a weldment that an order must respect, as reasons. */
export const abstractReasons = (weldment: AbstractWeldment, wishes: readonly Wish[]): readonly Refusal[] =>
  orderFacts(weldment, wishes).map((fact) => reasonOf(weldment, fact));

function reasonOf({ contacts }: AbstractWeldment, fact: OrderFact): Refusal {
  const { kind, part } = fact;
  switch (kind) {
    case 'contact': {
      const beside = (contacts ?? []).flatMap(([a, b]) => (a === part ? [b] : b === part ? [a] : []));
      return { code: kind, subjects: [part, ...new Set(beside)], fact: { kind, part } };
    }
    case 'first':
      return { code: kind, subjects: [part], fact: { kind, part } };
    case 'wish':
      return wishReason(fact.wish, fact.number);
    case 'needs':
      return { code: kind, subjects: [part, fact.after], fact: { kind, part, other: fact.after } };
    case 'blocking':
      return { code: kind, subjects: [part, fact.by], fact: { kind, part, other: fact.by } };
  }
}
