import { canonicalText } from '../../io/canonical.js';
import type { Budget } from '../../base/budget.js';
import type { Facts } from '../../facts/facts.js';
import type { Refusal } from '../../model/verdict.js';
import type { AbstractWeldment } from '../../model/weldment.js';
import { wishesOf, type Wish } from '../../model/wish.js';
import { abstractReasons } from '../../planning/abstract-impossible.js';
import { STAGES, type ConflictFact } from '../../planning/conflict-facts.js';
import { ConflictOracle } from '../../planning/conflict-oracle.js';
import { partsOfWish } from '../../rules/wish-kept.js';

/** Facts that together rule every plan out, as they are told. */
export type Told = readonly Refusal[];

/**
 * Whether it is proved of a changed input that the facts of a set still rule every plan out: much cheaper than to plan it
 * whole. False where that is not proved within the budget, and where a reason is no fact of a part.
 */
export function stillStands(facts: Facts, told: Told, budget: () => Budget): boolean {
  const oracle = new ConflictOracle(facts, budget);
  const asked = told.map((reason) => factsMeant(facts, oracle, reason));
  return asked.every((some) => some !== undefined) && typeof oracle.test(asked.flat()) !== 'string';
}

/** Kinds of facts that are asked before planning: there planning takes long to prove what these prove soon (our choice). */
const QUICK = STAGES.slice(0, 3);

/** Whether order, footing and ways into place alone rule every plan out. */
export function ruledOutAtOnce(facts: Facts, budget: () => Budget): boolean {
  const oracle = new ConflictOracle(facts, budget);
  return QUICK.some((kinds) => kinds !== undefined && oracle.rulesOut(kinds));
}

/** The facts of the changed input that are the one of a reason; none where it is gone, undefined where it is no fact of a part. */
function factsMeant(facts: Facts, { table }: ConflictOracle, { fact }: Refusal): ConflictFact[] | undefined {
  const { weldment, index } = facts.scene;
  if (fact === undefined) return undefined;
  if (fact.wished === undefined) {
    const part = index.get(fact.part);
    return part === undefined ? undefined : [table.of(fact.kind, part, fact)];
  }
  const at = placeOf(fact.wished, wishesOf(weldment, facts.settings));
  // It stands against whichever of its parts comes when it is broken.
  return at < 0 ? [] : partsOfWish(fact.wished).map((id) => table.of('wish', index.get(id)!, { wish: at }));
}

/** Where a wish is among those of a changed input, whatever became of the others; -1 where it is gone, or soft. */
function placeOf(wish: Wish, wishes: readonly Wish[]): number {
  const text = canonicalText(wish);
  return wishes.findIndex((one) => canonicalText(one) === text);
}

/** The same of a weldment without shapes: whether all facts of the set are there as before. */
export function stillStandsAbstractly(
  weldment: AbstractWeldment,
  wishes: readonly Wish[],
  told: Told,
): boolean {
  const there = new Set(abstractReasons(weldment, wishes).map(nameOf));
  return told.every((reason) => there.has(nameOf(reason)));
}

/** What a reason says, however many wishes come before its own. */
const nameOf = ({ code, subjects, fact }: Refusal): string =>
  canonicalText({ code, subjects, wished: fact?.wished ?? null });
