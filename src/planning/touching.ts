import { has, type PartSet } from '../base/part-set.js';
import type { Scene } from '../model/scene.js';

/**
 * Of the parts in place those that meet a part or the one beside it, once for each contact, in the order of the contacts:
 * what an answer about the part depends on where nothing else can carry or push it.
 */
export function touching(
  { contacts }: Pick<Scene, 'contacts'>,
  part: number,
  inPlace: PartSet,
  beside?: number,
): readonly number[] {
  const near: number[] = [];
  for (const { a, b } of contacts) {
    if (a !== part && b !== part && a !== beside && b !== beside) continue;
    if (a !== part && has(inPlace, a)) near.push(a);
    if (b !== part && has(inPlace, b)) near.push(b);
  }
  return near;
}
