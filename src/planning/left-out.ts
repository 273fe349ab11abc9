import { Budget } from '../base/budget.js';
import { has, members } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { DeepestParts } from '../model/deepest-parts.js';
import { Asked, inGivingOrder, type ConflictFact, type Tally } from './conflict-facts.js';
import { ConflictOracle } from './conflict-oracle.js';
import { reasonOf } from './conflict-reasons.js';
import { everyAngle } from './index-angles.js';
import type { OrderState } from './order-state.js';

/**
 * What keeps the parts away that a state leaves out, each asked about by itself, at the angle at which the table is: those that
 * most stands against first. Facts against a part are some that suffice, not all there are, those that stood against most
 * candidate ways first.
 */
export function leftOutOf(
  facts: Facts,
  { inPlace, first, angle }: Pick<OrderState, 'inPlace' | 'first' | 'angle'>,
  stopRequested: () => boolean = () => false,
): DeepestParts {
  const { parts } = facts.scene;
  const oracle = new ConflictOracle(facts, () => new Budget({ steps: 0 }));
  const nameOf = (part: number): string => parts[part]!.part.id;
  const at = everyAngle(facts).filter((one) => angle === undefined || one.facts.angle === angle);
  const against = (part: number): readonly ConflictFact[] => {
    if (stopRequested()) return [];
    const tally: Tally = new Map();
    const asked = Asked.counting(tally);
    const said = at.map((one) => oracle.joins.against(one, { part, inPlace, clamped: first }, asked));
    if (said.some((found) => found.length === 0)) return [];
    const times = (fact: ConflictFact): number => tally.get(fact) ?? 0;
    return inGivingOrder(new Set(said.flat()))
      .toReversed()
      .sort((p, q) => times(q) - times(p));
  };
  const left = parts.flatMap((_, part) => (has(inPlace, part) ? [] : [{ part, against: against(part) }]));
  return {
    inPlace: members(inPlace).map(nameOf),
    left: left
      .sort((p, q) => q.against.length - p.against.length || p.part - q.part)
      .map((one) => ({
        part: nameOf(one.part),
        reasons: one.against.map((fact) => reasonOf(facts, oracle, fact)),
      })),
  };
}
