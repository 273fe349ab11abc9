import { Kept } from '../base/kept.js';
import { members, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import { pushLoads, type PartLoad } from '../rules/load-cases.js';
import { touching } from './touching.js';

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
  const key = [part, ...touching(scene, part, inPlace)].join();
  return pushes.get(key, () => pushLoads(scene, part, members(inPlace), settings));
}
