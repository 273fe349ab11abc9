import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { madeUnique, slug } from '../../src/base/identifier.js';

const IDENTIFIER = /^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/;

describe('slug', () => {
  it.each([
    ['cheek-left', 'cheek-left'],
    ['Träger 2/B', 'trager-2-b'],
    ['__proto__', 'proto'],
    ['4711', 'part-4711'],
    ['板', 'part'],
    ['-', 'part'],
    ["'); drop table", 'drop-table'],
  ])('makes %j to %s', (text, wanted) => {
    expect(slug(text, 'part')).toBe(wanted);
  });

  it('makes an identifier of any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 90 }), (text) => {
        expect(slug(text, 'part')).toMatch(IDENTIFIER);
        expect(slug(text, 'part').length).toBeLessThanOrEqual(45);
      }),
    );
  });
});

describe('madeUnique', () => {
  it('numbers what comes again, past what is there', () => {
    expect(madeUnique(['a', 'b', 'a', 'a-2', 'a'])).toEqual(['a', 'b', 'a-3', 'a-2', 'a-4']);
  });

  it('leaves no two alike and the first of each as it is', () => {
    const names = fc.array(fc.constantFrom('a', 'a-2', 'a-2-2', 'b', 'b-3'), { maxLength: 12 });
    fc.assert(
      fc.property(names, (wanted) => {
        const given = madeUnique(wanted);
        expect(new Set(given).size).toBe(wanted.length);
        wanted.forEach((name, i) => {
          expect(given[i]!.startsWith(name)).toBe(true);
          if (wanted.indexOf(name) === i) expect(given[i]).toBe(name);
        });
      }),
    );
  });
});
