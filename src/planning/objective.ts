import type { Cost } from '../algorithms/cost.js';
import type { Facts } from '../facts/facts.js';
import { objectiveOf, termValue, type TermValues } from '../model/objective.js';
import type { ObjectiveTerm } from '../model/settings.js';

/** Objective terms by name before they are put in the user's order; time in milliseconds. */
export type NamedCost = TermValues;

export const inOrder = (objective: readonly ObjectiveTerm[], cost: NamedCost): Cost =>
  objective.map((term) => termValue(cost, term));

/** The terms by which plans of a planning run are compared. */
export const planObjective = ({ scene, settings }: Facts): readonly ObjectiveTerm[] =>
  objectiveOf(scene.weldment, settings);
