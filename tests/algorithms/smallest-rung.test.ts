import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smallestRung } from '../../src/algorithms/smallest-rung.js';

/** The answer, and the rungs that were asked about, in order. */
function climbed(rungs: number, works: (rung: number) => boolean): { rung: number; asked: number[] } {
  const asked: number[] = [];
  const rung = smallestRung(rungs, (one) => {
    asked.push(one);
    return works(one);
  });
  return { rung, asked };
}

describe('the lowest rung that works', () => {
  it('is found among those from which on all work, in as many tries as halving needs, and one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.nat(220), (rungs, from) => {
        const { rung, asked } = climbed(rungs, (one) => one >= from);
        expect(rung).toBe(from < rungs ? from : -1);
        expect(asked.length).toBeLessThanOrEqual(1 + Math.ceil(Math.log2(rungs)));
        expect(new Set(asked).size).toBe(asked.length);
      }),
    );
  });

  it('costs one try where the top does not help, and none where there are no rungs', () => {
    expect(climbed(9, () => false)).toEqual({ rung: -1, asked: [8] });
    expect(climbed(0, () => true)).toEqual({ rung: -1, asked: [] });
  });

  it('works, and the one below does not, whichever rungs work', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 40 }), (working) => {
        const { rung, asked } = climbed(working.length, (one) => working[one]!);
        expect(rung >= 0).toBe(working.at(-1));
        if (rung < 0) return;
        expect(working[rung]).toBe(true);
        expect(rung === 0 || (!working[rung - 1] && asked.includes(rung - 1))).toBe(true);
      }),
    );
  });
});
