import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minimalConflict, separateConflicts, type Tested } from '../../src/algorithms/minimal-conflict.js';

/** A monotone family: a set conflicts when it holds all of some core. */
const family = fc.record({
  size: fc.integer({ min: 0, max: 12 }),
  cores: fc.array(fc.uniqueArray(fc.nat(11), { maxLength: 4 }), { maxLength: 5 }),
  refined: fc.boolean(),
  batches: fc.option(fc.integer({ min: 1, max: 4 }), { nil: undefined }),
});

const holds = <Item>(cores: readonly (readonly Item[])[], subset: readonly Item[]): boolean =>
  cores.some((core) => core.every((item) => subset.includes(item)));

const without = <Item>(items: readonly Item[], item: Item): readonly Item[] =>
  items.filter((other) => other !== item);

/** A test that says the whole subset or, where it is to refine, the first core that it holds with the first item beside it. */
const testOf =
  (cores: readonly (readonly number[])[], refined: boolean) =>
  (subset: readonly number[]): Tested<number> => {
    const core = cores.find((one) => one.every((item) => subset.includes(item)));
    if (core === undefined) return 'free';
    return refined ? subset.filter((item, i) => i === 0 || core.includes(item)) : subset;
  };

describe('minimalConflict', () => {
  it('finds a core of every monotone family, each element proved to be needed, or none when there is none', () => {
    fc.assert(
      fc.property(family, ({ size, cores, refined, batches }) => {
        const items = Array.from({ length: size }, (_, i) => i);
        const test = testOf(cores, refined);
        const batchOf = batches === undefined ? undefined : (item: number) => `${item % batches}`;
        const found = minimalConflict(items, test, batchOf);
        expect(found !== undefined).toBe(holds(cores, items));
        if (found === undefined) return;
        expect(holds(cores, found.items)).toBe(true);
        for (const item of found.items) expect(holds(cores, without(found.items, item))).toBe(false);
        expect(found.needed).toBe(found.items.length);
        expect(minimalConflict(items, test, batchOf)).toEqual(found);
      }),
      { numRuns: 1000 },
    );
  });

  it('keeps what conflicts and says how much of it is proved to be needed when tests are given up', () => {
    fc.assert(
      fc.property(family, fc.integer({ min: 1, max: 12 }), ({ size, cores, refined }, most) => {
        const items = Array.from({ length: size }, (_, i) => i);
        const asked = testOf(cores, refined);
        let tests = 0;
        const found = minimalConflict(items, (subset) => ((tests += 1) > most ? 'undecided' : asked(subset)));
        if (found === undefined) return;
        expect(holds(cores, found.items)).toBe(true);
        const needed = found.items.filter((item) => !holds(cores, without(found.items, item)));
        expect(found.needed).toBeLessThanOrEqual(needed.length);
      }),
      { numRuns: 1000 },
    );
  });

  it('gives up the earlier items first and keeps the order', () => {
    const cores = [
      ['a', 'b'],
      ['c', 'd'],
    ];
    const test = (subset: readonly string[]): Tested<string> => (holds(cores, subset) ? subset : 'free');
    expect(minimalConflict(['a', 'c', 'b', 'd'], test)?.items).toEqual(['c', 'd']);
  });

  it('makes one test an item and one before, and fewer in batches', () => {
    let tests = 0;
    const test = (subset: readonly number[]): Tested<number> => {
      tests += 1;
      return subset.includes(5) ? subset : 'free';
    };
    expect(minimalConflict([1, 2, 5, 7], test)).toEqual({ items: [5], needed: 1 });
    expect(tests).toBe(5);
    tests = 0;
    const many = Array.from({ length: 40 }, (_, i) => i);
    expect(minimalConflict(many, test, (item) => `${item % 4}`)?.items).toEqual([5]);
    expect(tests).toBe(1 + 4 + 10);
  });
});

describe('an item that conflicts alone', () => {
  const test = testOf([[1, 2], [3], [5]], false);
  const alone = (item: number): boolean => typeof test([item]) !== 'string';
  const items = [1, 2, 3, 5, 7];

  it('is the conflict, the last of several', () => {
    expect(minimalConflict([3, 1, 2], test)).toEqual({ items: [1, 2], needed: 2 });
    expect(minimalConflict([3, 1, 2], test, undefined, alone)).toEqual({ items: [3], needed: 1 });
    expect(minimalConflict(items, test, undefined, alone)).toEqual({ items: [5], needed: 1 });
  });

  it('is not needed where nothing is', () => {
    expect(minimalConflict(items, testOf([[]], false), undefined, () => true)).toEqual({
      items: [],
      needed: 0,
    });
  });
});

describe('separateConflicts', () => {
  it('share no item, and end where none is left or enough are found', () => {
    const cores = [[1, 2], [2, 3], [4], [5, 6]];
    const items = [6, 5, 4, 3, 2, 1];
    const find = (dropped: readonly number[]) =>
      minimalConflict(
        items.filter((item) => !dropped.includes(item)),
        testOf(cores, false),
      );
    expect(separateConflicts(5, find).map((found) => found.items)).toEqual([[2, 1], [4], [6, 5]]);
    expect(separateConflicts(2, find)).toHaveLength(2);
  });
});
