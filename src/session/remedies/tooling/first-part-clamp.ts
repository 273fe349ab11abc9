import { numberLadder } from '../number-ladder.js';
import type { Ladder } from '../ladder.js';
import { hasCode, type Trouble } from '../trouble.js';

/** More force, N, in steps of what one clamp gives (our choice). */
const MORE = [500, 1000, 2000, 4000];
const FALLS = ['first-part-falls', 'assembly-gives-way', 'set-by-hand-falls'];

/** A clamp that presses the first part to the table with more force. */
export function firstPartClamp(trouble: Trouble): readonly Ladder[] {
  if (!hasCode(trouble, ...FALLS)) return [];
  const { clamp, force: from } = trouble.cell.stations.table['first-part'];
  const path = ['stations', 'table', 'first-part'];
  return numberLadder({
    ...{ kind: 'first-part-clamp', cost: 'tooling', file: 'cell', path: [...path, 'force'], from },
    values: MORE.map((more) => from + more),
    monotone: true,
    words: (to) => `press the first part to the table with ${to} N instead of ${from}`,
    along: clamp === 'none' ? [{ file: 'cell', path: [...path, 'clamp'], from: clamp, to: 'clamps' }] : [],
  });
}
