import type { LinearPrograms } from '../../algorithms/linear-program.js';
import { Budget, type BudgetLimits } from '../../base/budget.js';
import type { Refusal } from '../../model/verdict.js';
import { ConflictOracle } from '../../planning/conflict-oracle.js';
import { factsOf } from '../../planning/plan.js';
import type { Inputs } from '../inputs.js';

/**
 * Whether it is proved that a changed input has no plan, from the very facts that ruled out every plan of the given one:
 * much cheaper than to plan it whole. False where that is not proved within the limits, and where a reason is no fact of a part.
 */
export function stillRuledOut(
  { weldment, cell, settings }: Inputs,
  reasons: readonly Refusal[],
  programs: LinearPrograms,
  limits: BudgetLimits,
): boolean {
  if (weldment.kind === 'abstract' || !cell) return false;
  const facts = factsOf(weldment, cell, settings, programs);
  const oracle = new ConflictOracle(facts, () => new Budget(limits));
  const asked = reasons.flatMap(({ fact }) => {
    const part = fact && facts.scene.index.get(fact.part);
    return part === undefined ? [] : [oracle.table.of(fact!.kind, part, fact)];
  });
  return asked.length === reasons.length && typeof oracle.test(asked) !== 'string';
}
