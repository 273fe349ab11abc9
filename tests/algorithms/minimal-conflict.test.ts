import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minimalConflict } from '../../src/algorithms/minimal-conflict.js';

/** A monotone family: a set conflicts when it holds all of some core. */
const family = fc.record({
  size: fc.integer({ min: 0, max: 12 }),
  cores: fc.array(fc.uniqueArray(fc.nat(11), { maxLength: 4 }), { maxLength: 5 }),
});

describe('minimalConflict', () => {
  it('finds a core of every monotone family, each element needed, or none when there is none', () => {
    fc.assert(
      fc.property(family, ({ size, cores }) => {
        const items = Array.from({ length: size }, (_, i) => i);
        const conflicts = (subset: readonly number[]) =>
          cores.some((core) => core.every((item) => subset.includes(item)));
        const found = minimalConflict(items, conflicts);
        expect(found !== undefined).toBe(conflicts(items));
        if (found === undefined) return;
        expect(conflicts(found)).toBe(true);
        for (const item of found) expect(conflicts(found.filter((other) => other !== item))).toBe(false);
        expect(minimalConflict(items, conflicts)).toEqual(found);
      }),
      { numRuns: 1000 },
    );
  });

  it('gives up the earlier items first and keeps the order', () => {
    const cores = [
      ['a', 'b'],
      ['c', 'd'],
    ];
    const conflicts = (subset: readonly string[]) =>
      cores.some((core) => core.every((item) => subset.includes(item)));
    expect(minimalConflict(['a', 'c', 'b', 'd'], conflicts)).toEqual(['c', 'd']);
  });

  it('makes one test an item and one before', () => {
    let tests = 0;
    const conflicts = (subset: readonly number[]) => {
      tests += 1;
      return subset.includes(5);
    };
    expect(minimalConflict([1, 2, 5, 7], conflicts)).toEqual([5]);
    expect(tests).toBe(5);
  });
});
