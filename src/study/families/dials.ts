import { seededRandom, type Random } from '../../base/random.js';

/** A stream of random numbers for one purpose: turning one dial leaves what the others chose as it was. */
export function streamFor(seed: number, purpose: string): Random {
  let mixed = seed >>> 0;
  for (const letter of purpose)
    mixed = (Math.imul(mixed ^ letter.charCodeAt(0), 0x01000193) + 0x9e3779b9) >>> 0;
  return seededRandom(mixed);
}

/** The list in random order. */
export function shuffled<T>(list: readonly T[], random: Random): readonly T[] {
  const all = [...list];
  for (let i = all.length - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    [all[i], all[j]] = [all[j]!, all[i]!];
  }
  return all;
}

/**
 * A random choice of groups that hold as near as possible to a share of the weight of all, where each weighs as many as
 * it has members. With one stream a larger share chooses all that a smaller one chooses.
 */
export function shareOf<T>(
  groups: readonly T[],
  share: number,
  random: Random,
  weigh: (group: T) => number = () => 1,
): readonly T[] {
  const all = groups.reduce((sum, group) => sum + weigh(group), 0);
  const chosen: T[] = [];
  let weight = 0;
  for (const group of shuffled(groups, random)) {
    if (weight + weigh(group) / 2 > share * all) break;
    chosen.push(group);
    weight += weigh(group);
  }
  return chosen;
}
