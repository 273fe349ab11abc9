import type { StateRow } from './packed-problem.js';

/**
 * A hash of the layer and the first words of a state, for tables whose size is a power of two: every word is multiplied in,
 * and the high bits, which depend on all of them, are folded down at the end.
 */
export function hashOfState(state: StateRow, words: number, layer: number): number {
  let hash = 0x811c9dc5 ^ layer;
  for (let i = 0; i < words; i += 1) {
    hash = Math.imul(hash ^ state[i]!, 0x9e3779b1);
    hash ^= hash >>> 15;
  }
  hash = Math.imul(hash, 0x85ebca6b);
  return hash ^ (hash >>> 13);
}
