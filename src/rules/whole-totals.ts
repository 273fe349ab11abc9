import { compareVectors } from '../base/order.js';
import type { GeometricPlan } from '../model/plan.js';
import type { Totals } from '../model/plan-whole.js';
import type { ObjectiveTerm } from '../model/settings.js';

type Costed = Pick<GeometricPlan, 'objective' | 'stages'>;

/** What several plans come to that are carried out one after another. */
export interface Together {
  readonly objective: Totals;
  readonly changesBetween: number;
}

/**
 * Each term summed over the plans, in the order in which they are carried out, with the grippers that are changed between
 * one and the next. The terms are those of the plan with most, since only `wishes` may be missing: it counts as 0 there.
 */
export function together(plans: readonly Costed[]): Together {
  const changesBetween = changesOf(plans);
  const terms = plans.reduce<Costed['objective']>(
    (most, { objective: own }) => (own.length > most.length ? own : most),
    [],
  );
  const objective = terms.map(({ term }) => ({
    term,
    value:
      plans.reduce((sum, plan) => sum + valueIn(plan, term), 0) +
      (term === 'tool-changes' ? changesBetween : 0),
  }));
  return { objective, changesBetween };
}

const valueIn = ({ objective }: Costed, term: ObjectiveTerm): number =>
  objective.find((one) => one.term === term)?.value ?? 0;

/** The first of all grippers may be mounted beforehand; a robot keeps its own through a plan that does not need it. */
function changesOf(plans: readonly Costed[]): number {
  const mounted = new Map<string, string>();
  let changes = 0;
  for (const { stages } of plans) {
    const begun = new Set<string>();
    for (const { robot, handling } of stages) {
      const [first, last] = [handling[0]?.grip.gripper, handling.at(-1)?.grip.gripper];
      if (robot === null || first === undefined || last === undefined) continue;
      const before = mounted.get(robot);
      if (!begun.has(robot) && before !== undefined && before !== first) changes += 1;
      begun.add(robot);
      mounted.set(robot, last);
    }
  }
  return changes;
}

/**
 * Whether totals are less than others: the first term that differs decides. A term that only one of them has, as the wishes of
 * which some parts have none, counts as 0 in the other.
 */
export function isLess(a: Totals, b: Totals): boolean {
  const terms = (a.length < b.length ? b : a).map(({ term }) => term);
  const valuesOf = (totals: Totals): number[] =>
    terms.map((term) => totals.find((one) => one.term === term)?.value ?? 0);
  return compareVectors(valuesOf(a), valuesOf(b)) < 0;
}
