import { place, type Pose } from '../geometry/pose.js';
import type { Wish } from './wish.js';

/** The part that a wish is about, where it is about one. */
const partOf = (wish: Wish): string | undefined =>
  'grip' in wish ? wish.grip : 'regrips' in wish ? wish.regrips : 'held' in wish ? wish.held : undefined;

/**
 * Wishes as they are meant of the weldment whose groups are one part each. `called` gives the name that a part has there. How a part of a
 * group is taken, regripped or held is wished of it as it joins its group, and so is what joins two parts of a group.
 */
export function wishesAround(wishes: readonly Wish[], called: (part: string) => string): readonly Wish[] {
  const pairOf = ([a, b]: readonly [string, string]): [string, string] => [called(a), called(b)];
  return wishes.flatMap((wish): Wish[] => {
    const part = partOf(wish);
    if (part !== undefined) return called(part) === part ? [wish] : [];
    if ('before' in wish) {
      const before = pairOf(wish.before);
      return before[0] === before[1] ? [] : [{ ...wish, before }];
    }
    if ('tack' in wish) {
      const tack = pairOf(wish.tack);
      return tack[0] === tack[1] ? [] : [{ ...wish, tack }];
    }
    if (!('first' in wish)) return [];
    // A part that is never to be first is not, when it is not the first of its group.
    const stays = called(wish.first) === wish.first || !wish.never;
    return stays ? [{ ...wish, first: called(wish.first) }] : [];
  });
}

/** Wishes as they are meant of the parts of one group; `frame` takes places of the weldment to those of the group's own. */
export function wishesWithin(
  wishes: readonly Wish[],
  has: (part: string) => boolean,
  frame: Pose,
): readonly Wish[] {
  return wishes.flatMap((wish): Wish[] => {
    const part = partOf(wish) ?? ('first' in wish ? wish.first : undefined);
    if (part !== undefined) return has(part) ? [wish] : [];
    if ('before' in wish) return wish.before.every(has) ? [wish] : [];
    if (!('tack' in wish) || !wish.tack.every(has)) return [];
    return [{ ...wish, near: [...place(frame, wish.near)] }];
  });
}
