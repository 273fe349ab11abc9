import type { ObjectiveTerm } from '../model/settings.js';

/** Where the terms stand in the objective. */
export interface TermPlaces {
  readonly regrips: number;
  readonly changes: number;
  readonly time: number;
  /** Negative where there are no soft wishes. */
  readonly wishes: number;
}

export const termPlaces = (objective: readonly ObjectiveTerm[]): TermPlaces => ({
  regrips: objective.indexOf('regrips'),
  changes: objective.indexOf('tool-changes'),
  time: objective.indexOf('time'),
  wishes: objective.indexOf('wishes'),
});

/** Terms of an objective of parts without shapes. */
export const termCount = ({ wishes }: TermPlaces): number => (wishes < 0 ? 3 : 4);
