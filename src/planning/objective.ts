import type { Cost } from '../algorithms/cost.js';
import type { ObjectiveTerm } from '../model/settings.js';

/** Objective terms by name before they are put in the user's order; time in milliseconds. */
export type NamedCost = Readonly<Record<ObjectiveTerm, number>>;

export const inOrder = (objective: readonly ObjectiveTerm[], cost: NamedCost): Cost =>
  objective.map((term) => cost[term]);
