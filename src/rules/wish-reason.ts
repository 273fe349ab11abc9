import type { Refusal } from '../model/verdict.js';
import type { Wish } from '../model/wish.js';
import { partsOfWish } from './wish-kept.js';

/** A hard wish as a reason, with the wish itself and its place in `wishesOf` as a fact. */
export function wishReason(wish: Wish, at: number): Refusal {
  const subjects = partsOfWish(wish);
  return { code: 'wish', subjects, fact: { kind: 'wish', part: subjects[0]!, wish: at, wished: wish } };
}
