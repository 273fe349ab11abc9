import type { ObjectiveTerm, Settings } from './settings.js';
import { wishesOf, type Wisher } from './wish.js';

/**
 * The terms by which plans of a weldment are compared, in their order. Where there are soft wishes, `wishes` counts
 * first unless the settings name it elsewhere; where there are none, there is no such term.
 */
export function objectiveOf(
  weldment: Wisher,
  settings: Pick<Settings, 'objective' | 'wishes'>,
): readonly ObjectiveTerm[] {
  const { objective } = settings;
  const soft = wishesOf(weldment, settings).some((wish) => wish.soft);
  if (!soft) return objective.filter((term) => term !== 'wishes');
  return objective.includes('wishes') ? objective : ['wishes', ...objective];
}

/** Values by term; nothing is broken where `wishes` is left out. */
export type TermValues = Readonly<Record<Exclude<ObjectiveTerm, 'wishes'>, number>> & {
  readonly wishes?: number;
};

export const termValue = (values: TermValues, term: ObjectiveTerm): number => values[term] ?? 0;
