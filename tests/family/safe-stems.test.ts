import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { safeStems } from '../../src/family/safe-stems.js';

describe('what files of variants are called', () => {
  it('is their name where that is a plain word', () => {
    expect([...safeStems(['low-8', 'high_12', '200']).values()]).toEqual(['low-8', 'high_12', '200']);
  });

  it.each(['../../etc/passwd', 'a/b', 'a b', 'nul', '-rf', '.hidden', 'Höhe 200', '…', 'x'.repeat(80)])(
    'is a safe word for %j',
    (name) => {
      expect(safeStems([name]).get(name)).toMatch(/^[A-Za-z0-9_][A-Za-z0-9_-]{0,48}-[0-9a-f]{8}$/);
    },
  );

  it('is not that of a name that was given digits', () => {
    const given = safeStems(['a b']).get('a b')!;
    const stems = safeStems(['a b', given, given.toUpperCase()]);
    expect(stems.get('a b')).toBe(given);
    expect(new Set([...stems.values()].map((stem) => stem.toLowerCase())).size).toBe(3);
  });

  it('is never the same for two names, also where case does not count, and does not depend on their order', () => {
    const name = fc.oneof(fc.string({ minLength: 1 }), fc.stringMatching(/^[aAbB-]{1,3}$/));
    fc.assert(
      fc.property(fc.uniqueArray(name), (names) => {
        const stems = safeStems(names);
        expect(new Set([...stems.values()].map((stem) => stem.toLowerCase())).size).toBe(names.length);
        const back = safeStems([...names].reverse());
        for (const one of names) expect(back.get(one)).toBe(stems.get(one));
      }),
    );
  });
});
