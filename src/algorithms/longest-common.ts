import { compareText } from '../base/order.js';

/**
 * A longest list of words that stand in both lists in the same order; of several the one whose words come first by
 * code unit, so that it does not matter which list is given first. No word may stand twice in a list.
 */
export function longestCommon(a: readonly string[], b: readonly string[]): string[] {
  const placeInB = new Map(b.map((word, i) => [word, i]));
  const shared = a.flatMap((word) => {
    const at = placeInB.get(word);
    return at === undefined ? [] : [{ word, at }];
  });
  const lengths = lengthsFrom(shared.map(({ at }) => at));
  const chosen: string[] = [];
  let left = Math.max(0, ...lengths);
  let after = { index: -1, at: -1 };
  while (left > 0) {
    const next = shared
      .map(({ word, at }, index) => ({ word, at, index }))
      .filter(({ at, index }) => index > after.index && at > after.at && lengths[index] === left)
      .reduce((best, one) => (compareText(one.word, best.word) < 0 ? one : best));
    chosen.push(next.word);
    after = next;
    left -= 1;
  }
  return chosen;
}

/** For each place the length of the longest ascending list that begins with its number. */
function lengthsFrom(numbers: readonly number[]): number[] {
  const lengths = numbers.map(() => 1);
  for (let i = numbers.length - 1; i >= 0; i -= 1)
    for (let j = i + 1; j < numbers.length; j += 1)
      if (numbers[j]! > numbers[i]!) lengths[i] = Math.max(lengths[i]!, lengths[j]! + 1);
  return lengths;
}
