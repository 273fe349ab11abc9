import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longestCommon } from '../../src/algorithms/longest-common.js';

/** Every subset of `a` in its order, longest first. */
const subsets = (a: readonly string[]): string[][] =>
  Array.from({ length: 2 ** a.length }, (_, mask) => a.filter((__, i) => (mask >> i) & 1)).sort(
    (p, q) => q.length - p.length,
  );

const inOrder = (part: readonly string[], whole: readonly string[]): boolean =>
  part.every((word, i) => i === 0 || whole.indexOf(part[i - 1]!) < whole.indexOf(word)) &&
  part.every((word) => whole.includes(word));

const words = fc.uniqueArray(fc.constantFrom(...'abcdefgh'), { maxLength: 7 });

describe('longestCommon', () => {
  it('is as long as the longest of all subsets that stand in both, and the same from either side', () => {
    fc.assert(
      fc.property(words, words, (a, b) => {
        const found = longestCommon(a, b);
        expect(inOrder(found, a) && inOrder(found, b)).toBe(true);
        expect(found).toHaveLength(subsets(a).find((part) => inOrder(part, b))!.length);
        expect(longestCommon(b, a)).toEqual(found);
      }),
      { numRuns: 300, seed: 8 },
    );
  });

  it('moves one part where one part moved', () => {
    expect(longestCommon(['a', 'b', 'c', 'd'], ['b', 'c', 'd', 'a'])).toEqual(['b', 'c', 'd']);
  });
});
