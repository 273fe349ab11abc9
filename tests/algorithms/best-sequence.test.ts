import { describe, expect, it } from 'vitest';
import { bestSequence } from '../../src/algorithms/best-sequence.js';
import { countOrders, judged, leastOfAll, type Sequence } from '../../src/algorithms/permutations.js';
import { seededRandom } from '../../src/base/random.js';

/** A body on a line that every item draws to one side, the less the more items are there: the order matters. */
function pulled(seed: number, sizes: readonly number[]): Sequence<readonly number[]> {
  const random = seededRandom(seed);
  const draws = sizes.flatMap((size) => Array.from({ length: size }, () => random() - 0.5));
  let next = 0;
  const groups = sizes.map((size) => Array.from({ length: size }, () => next++));
  return {
    groups,
    start: [],
    after: (taken, item) => [...taken, item],
    value: (taken) => Math.abs(taken.reduce((sum, item, i) => sum + draws[item]! / (1 + i * i), 0)),
  };
}

/** Every order, group by group, by swapping (Heap 1963): another way than the one that is tested. */
function everyOrder(groups: readonly (readonly number[])[]): number[][] {
  const heap = (items: number[], size: number): number[][] => {
    if (size <= 1) return [[...items]];
    return Array.from({ length: size }, (_, i) => i).flatMap((i) => {
      const found = heap(items, size - 1);
      const other = size % 2 === 0 ? i : 0;
      [items[other], items[size - 1]] = [items[size - 1]!, items[other]!];
      return found;
    });
  };
  return groups.reduce<number[][]>(
    (before, group) =>
      before.flatMap((order) => heap([...group], group.length).map((own) => [...order, ...own])),
    [[]],
  );
}

const SIZES = [[], [1], [4], [2, 3], [3, 0, 3], [6]];

describe('the best of all orders', () => {
  it.each(SIZES.map((sizes, i) => [sizes, i + 1] as const))(
    'is that of a list of all, for groups of %j',
    (sizes, seed) => {
      const sequence = pulled(seed, sizes);
      const all = everyOrder(sequence.groups);
      expect(countOrders(sequence.groups)).toBe(all.length);
      const least = Math.min(...all.map((order) => judged(sequence, order).value));
      const found = leastOfAll(sequence);
      expect(found.value).toBeCloseTo(least, 9);
      expect(judged(sequence, found.order).value).toBeCloseTo(found.value, 12);
    },
  );

  it('takes every beginning once', () => {
    const sequence = pulled(1, [7]);
    let taken = 0;
    leastOfAll({ ...sequence, after: (state, item) => ((taken += 1), sequence.after(state, item)) });
    // 7 + 7*6 + ... + 7!
    expect(taken).toBe(13_699);
  });

  it('is the usual one of equals', () => {
    const indifferent = { ...pulled(1, [2, 3]), value: () => 1 };
    expect(leastOfAll(indifferent).order).toEqual([0, 1, 2, 3, 4]);
  });
});

describe('the best order', () => {
  const limits = { most: 5040, steps: 60 };

  it('prefers what is known where nothing is better', () => {
    const indifferent = { ...pulled(1, [3]), value: () => 1 };
    const best = bestSequence(indifferent, [[2, 1, 0]], limits);
    expect(best).toMatchObject({ all: true, tried: 6, least: { order: [2, 1, 0], value: 1 } });
  });

  it.each([1, 2, 3, 4, 5])('of many items is found, no worse than what is known (seed %i)', (seed) => {
    const sequence = pulled(seed, [3, 8]);
    const usual = sequence.groups.flat();
    const known = [usual, [2, 1, 0, ...usual.slice(3).reverse()]];
    const best = bestSequence(sequence, known, limits);
    expect(best.all).toBe(false);
    expect(best.tried).toBeGreaterThan(known.length);
    for (const { value } of best.known) expect(best.least.value).toBeLessThanOrEqual(value);
    expect(judged(sequence, best.least.order).value).toBeCloseTo(best.least.value, 12);
    expect([...best.least.order.slice(0, 3)].sort()).toEqual([0, 1, 2]);
    expect(bestSequence(sequence, known, limits)).toEqual(best);
  });

  it('is found too where all could be listed', () => {
    const sequence = pulled(7, [5]);
    const best = bestSequence(sequence, [sequence.groups.flat()], { most: 10, steps: 1000 });
    expect(best.all).toBe(false);
    expect(best.least.value).toBeLessThanOrEqual(judged(sequence, [0, 1, 2, 3, 4]).value);
    expect(best.least.value).toBeGreaterThanOrEqual(leastOfAll(sequence).value);
  });
});
