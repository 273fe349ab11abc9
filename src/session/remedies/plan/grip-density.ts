import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { stuckParts, type Trouble } from '../trouble.js';

/** Halves the spacing and keeps the positions: 5 for 3. Finer still takes many times as long (our choice). */
const finer = (density: number): readonly number[] => [2 * density - 1].filter((value) => value <= 21);

/** Tries grips at more positions on a face, where a part may be taken anywhere. */
export function gripDensity(trouble: Trouble): readonly Ladder[] {
  const parts = stuckParts(trouble, 'no-handling', 'no-securing');
  if (parts.every((part) => trouble.weldment.parts[part]?.grips !== undefined)) return [];
  const from = trouble.settings.grips.density;
  return numberLadder({
    ...{ kind: 'grip-density', cost: 'plan', file: 'settings', path: ['grips', 'density'], from },
    values: finer(from),
    monotone: true,
    words: (to) => `try grips at ${to} positions along each axis of a face instead of ${from}`,
  });
}
