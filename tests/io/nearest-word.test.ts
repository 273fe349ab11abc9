import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editDistance, nearestWord } from '../../src/io/nearest-word.js';

describe('edit distance', () => {
  it.each([
    ['', '', 0],
    ['web', 'web', 0],
    ['wbe', 'web', 1],
    ['lenght', 'length', 1],
    ['plat', 'plate', 1],
    ['kitten', 'sitting', 3],
    ['', 'abc', 3],
  ])('of %j and %j is %i', (a, b, distance) => {
    expect(editDistance(a, b)).toBe(distance);
  });

  it('is symmetric, and zero only for equal words', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 8 });
    fc.assert(
      fc.property(word, word, (a, b) => {
        expect(editDistance(a, b)).toBe(editDistance(b, a));
        expect(editDistance(a, b) === 0).toBe(a === b);
        expect(editDistance(a, b)).toBeLessThanOrEqual(Math.max(a.length, b.length));
      }),
    );
  });
});

describe('the nearest word', () => {
  const known = ['length', 'width', 'thickness', 'leg'];

  it('is close, and is not there when nothing is close', () => {
    expect(nearestWord('lenght', known)).toBe('length');
    expect(nearestWord('thicknes', known)).toBe('thickness');
    expect(nearestWord('Leg', known)).toBe('leg');
    expect(nearestWord('colour', known)).toBeUndefined();
    expect(nearestWord('x', ['y'])).toBeUndefined();
    expect(nearestWord('l'.repeat(1000), ['l'.repeat(999)])).toBeUndefined();
  });
});
