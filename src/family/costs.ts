import type { Cost } from '../algorithms/cost.js';
import type { MatrixField } from '../model/family-result.js';
import type { GeometricPlan } from '../model/plan.js';
import type { ObjectiveTerm } from '../model/settings.js';

/** What something costs beyond something else, term by term. */
export type Extra = NonNullable<MatrixField['extra']>;

type Costed = Pick<GeometricPlan, 'objective'>;

/**
 * The terms by which plans of a family are compared. Those of one variant may be fewer than those of another, where only
 * one has a part about which something is wished; the longest list has them all in their order.
 */
export const termsOf = (plans: readonly Costed[]): readonly ObjectiveTerm[] =>
  plans.reduce<readonly ObjectiveTerm[]>(
    (longest, { objective }) =>
      objective.length > longest.length ? objective.map(({ term }) => term) : longest,
    [],
  );

/** What a plan costs by these terms; one that it does not have counts nothing. */
export const costOf = ({ objective }: Costed, terms: readonly ObjectiveTerm[]): Cost =>
  terms.map((term) => objective.find((entry) => entry.term === term)?.value ?? 0);

export const extraOf = (terms: readonly ObjectiveTerm[], cost: Cost): Extra =>
  terms.map((term, i) => ({ term, value: cost[i]! }));
