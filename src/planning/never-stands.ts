import { setOf } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Refusal } from '../model/verdict.js';
import { fallsUnheld, type Fall } from './first-short.js';
import { pushesOn } from './newcomer-pushes.js';
import { NewcomerStatics } from './securing.js';

/** Of a part that touches more others their sets are not all asked; our choice. */
const MOST_NEIGHBOURS = 8;

/** What a part that nobody holds does not carry before it is tacked. */
export interface NeverStands {
  /** Whichever parts are in place, itself not the first; of all these the one that comes nearest to being carried. */
  readonly later: Refusal;
  /** Whether it does not stand as the first part either. */
  readonly first: boolean;
}

/**
 * Whether a part falls while nobody holds it, wherever it comes in the order and by whatever grip: only parts that it touches can
 * carry it, so that every set of them is asked. Undefined where it stands on one of them.
 */
export function neverStands(facts: Facts, part: number): NeverStands | undefined {
  const { scene } = facts;
  const count = scene.parts.length;
  const neighbours = scene.contacts.flatMap(({ a, b }) => (a === part ? [b] : b === part ? [a] : []));
  const near = [...new Set(neighbours)];
  if (near.length === 0 || near.length > MOST_NEIGHBOURS) return undefined;
  // Some other part is the first, which is clamped: one that does not touch this one, or else of those that do.
  const far = scene.parts.findIndex((_, i) => i !== part && !near.includes(i));
  const statics = new NewcomerStatics(facts);
  const fallOn = (inPlace: readonly number[], clamped: number | undefined): Fall | undefined => {
    const newcomer = { part, inPlace: setOf(count, inPlace), clamped };
    return statics.fall(newcomer, [], [], pushesOn(facts, newcomer));
  };
  let nearest: Fall | undefined;
  for (let set = 0; set < 2 ** near.length; set += 1) {
    const touching = near.filter((_, i) => ((set >> i) & 1) === 1);
    const inPlace = far < 0 ? touching : [far, ...touching];
    if (inPlace.length === 0) continue;
    const fall = fallOn(inPlace, inPlace[0]);
    if (fall === undefined) return undefined;
    if (nearest === undefined || fall.reserve / fall.required > nearest.reserve / nearest.required)
      nearest = fall;
  }
  return {
    later: fallsUnheld(scene.parts[part]!.part.id, nearest!),
    first: fallOn([], undefined) !== undefined,
  };
}
