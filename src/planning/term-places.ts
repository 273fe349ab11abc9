import type { ObjectiveTerm } from '../model/settings.js';

/** Where the terms stand in the objective. */
export interface TermPlaces {
  readonly regrips: number;
  readonly changes: number;
  readonly time: number;
}

export const termPlaces = (objective: readonly ObjectiveTerm[]): TermPlaces => ({
  regrips: objective.indexOf('regrips'),
  changes: objective.indexOf('tool-changes'),
  time: objective.indexOf('time'),
});
