import {
  minimalConflict,
  separateConflicts,
  type MinimalConflict,
  type Tested,
} from '../algorithms/minimal-conflict.js';
import { Budget } from '../base/budget.js';
import type { Facts } from '../facts/facts.js';
import { MOST_SETS } from '../model/reason-fact.js';
import type { Refusal } from '../model/verdict.js';
import { batchOf, byWhatIsTold, inGivingOrder, type ConflictFact } from './conflict-facts.js';
import { ConflictOracle } from './conflict-oracle.js';
import { reasonOf } from './conflict-reasons.js';

/** Facts that together rule every plan out. */
export interface ReasonSet {
  readonly reasons: readonly Refusal[];
  /** Without any one of so many of them an order is known; of the rest that was not found out within the budget. */
  readonly needed: number;
}

/** Why there is no plan. `any`: whatever the candidates; `candidates`: among those considered. */
export interface Impossibility extends ReasonSet {
  readonly scope: 'any' | 'candidates';
  /** Further sets, each of which rules every plan out too and shares no fact with those before. */
  readonly also: readonly ReasonSet[];
  /** Whether there may be further sets: only of order relations alone, no more than are told, all are found. */
  readonly mayBeMore: boolean;
}

/** Sets of parts in place that may be looked at for all further sets together; our choice. */
const FURTHER_STEPS = 5000;

/** Parts that no gripper of the cell can ever carry, however it takes them. */
function absolute(facts: Facts): Refusal[] {
  const { handlers, grippers } = facts.scene.cell;
  const handler = handlers.reduce((best, next) => (next.payload.mass > best.payload.mass ? next : best));
  return facts.scene.parts.flatMap(({ part, mass }): Refusal[] => {
    if (part.manual) return [];
    const holding = grippers.filter(({ kind }) => kind !== 'magnet' || part.material.magnetic > 0);
    const fact = { kind: 'capacity', part: part.id } as const;
    if (holding.length === 0)
      return [
        {
          ...{ code: 'not-magnetic', subjects: [part.id, part.material.name] },
          ...{ value: part.material.magnetic, limit: 0, fact },
        },
      ];
    const together = mass + Math.min(...holding.map((gripper) => gripper.mass));
    if (together <= handler.payload.mass) return [];
    return [
      {
        ...{ code: 'payload', subjects: [part.id, handler.id] },
        ...{ value: together, limit: handler.payload.mass, unit: 'kg' },
        fact: { ...fact, robot: handler.id },
      },
    ];
  });
}

/** A minimal set among all facts but these. */
function conflictBeside(
  oracle: ConflictOracle,
  dropped: readonly ConflictFact[],
): MinimalConflict<ConflictFact> | undefined {
  const met = oracle.among(dropped);
  if (typeof met === 'string') return undefined;
  const alone = (fact: ConflictFact): boolean => oracle.isEnough(fact);
  const test = (some: readonly ConflictFact[]): Tested<ConflictFact> => oracle.test(some);
  // Facts of one candidate each may let others count that were not there before; then all that were met are asked.
  const all = oracle.table.met.filter((fact) => !dropped.includes(fact));
  return (
    minimalConflict(met, test, batchOf, alone) ?? minimalConflict(inGivingOrder(all), test, batchOf, alone)
  );
}

/**
 * Minimal sets of facts that rule every order out: a single fact that does so alone, else found by deletion, first of whole conditions
 * of a part, then of the facts behind them; each test looks for an order again. `budget` makes what one test may spend; all tests
 * for further sets together also no more than FURTHER_STEPS.
 */
export function explainImpossible(facts: Facts, budget: () => Budget): Impossibility {
  const always = absolute(facts);
  if (always.length > 0) {
    const [first, ...also] = always.map((reason): ReasonSet => ({ reasons: [reason], needed: 1 }));
    return { scope: 'any', ...first!, also, mayBeMore: true };
  }
  const oracle = new ConflictOracle(facts, budget);
  const sets = separateConflicts(MOST_SETS, (dropped: readonly ConflictFact[]) => {
    const found = conflictBeside(oracle, dropped);
    if (dropped.length === 0) oracle.limit(new Budget({ steps: FURTHER_STEPS }));
    return found;
  });
  const [first, ...further] = [...sets]
    .sort((p, q) => byWhatIsTold(p.items, q.items))
    .map(({ items, needed }): ReasonSet => ({
      // Told in the reverse of the order of giving up: what the file says first.
      reasons: items.toReversed().map((fact) => reasonOf(facts, oracle, fact)),
      needed,
    }));
  if (first === undefined) {
    const unexplained = { code: 'unexplained', subjects: [facts.scene.weldment.name] };
    return { scope: 'candidates', reasons: [unexplained], needed: 0, also: [], mayBeMore: false };
  }
  return { scope: 'candidates', ...first, also: further, mayBeMore: true };
}
