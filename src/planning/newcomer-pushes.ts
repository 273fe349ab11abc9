import { Kept } from '../base/kept.js';
import { has, members, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { pushLoads, type PartLoad } from '../rules/load-cases.js';

/** Pushes by part and what it touches; they go with the facts. */
const PUSHES = new WeakMap<Facts, Kept<readonly PartLoad[]>>();

/** Pushes on a newcomer among the parts in place: the same list wherever the same of them touch it. */
export function pushesOn(
  facts: Facts,
  { part, inPlace }: { readonly part: number; readonly inPlace: PartSet },
): readonly PartLoad[] {
  const { scene, settings } = facts;
  const pushes = PUSHES.get(facts) ?? new Kept<readonly PartLoad[]>(facts.keeping);
  PUSHES.set(facts, pushes);
  const key = [part, ...touching(facts, part, inPlace)].join();
  return pushes.get(key, () => pushLoads(scene, part, members(inPlace), settings));
}

/** Of the parts in place those that one touches, once for each contact, in the order of the contacts. */
function touching({ scene }: Facts, part: number, inPlace: PartSet): readonly number[] {
  const near: number[] = [];
  for (const { a, b } of scene.contacts) {
    if (a === part && has(inPlace, b)) near.push(b);
    else if (b === part && has(inPlace, a)) near.push(a);
  }
  return near;
}
