import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Need } from '../../src/io/needs-cycles.js';
import { needsCycles } from '../../src/io/needs-cycles.js';

const need = (part: string, after: string): Need => ({ part, after });

describe('cycles among needs', () => {
  it('are none in an order that can be kept', () => {
    expect(needsCycles([need('c', 'b'), need('b', 'a'), need('c', 'a'), need('a', 'a')])).toEqual([]);
  });

  it('are found apart, each from its least name, without the parts that only wait for it', () => {
    const needs = [
      need('x', 'b'),
      need('b', 'a'),
      need('a', 'b'),
      need('e', 'd'),
      need('d', 'f'),
      need('f', 'e'),
    ];
    expect(needsCycles(needs)).toEqual([
      ['a', 'b'],
      ['d', 'f', 'e'],
    ]);
  });

  it('are real, and without them an order exists (any needs of up to seven parts)', () => {
    const name = fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f', 'g');
    const needs = fc.array(fc.tuple(name, name), { maxLength: 14 });
    fc.assert(
      fc.property(needs, (pairs) => {
        const given = pairs.filter(([p, q]) => p !== q).map(([p, q]) => need(p, q));
        const cycles = needsCycles(given);
        for (const cycle of cycles)
          cycle.forEach((part, i) => {
            expect(given).toContainEqual(need(part, cycle[(i + 1) % cycle.length]!));
          });
        expect(cycles.length === 0).toBe(canBeOrdered(given));
      }),
    );
  });
});

/** Whether an order exists, by trying: take any part that waits for nothing left, until none is left. */
function canBeOrdered(needs: readonly Need[]): boolean {
  let left = [...new Set(needs.flatMap(({ part, after }) => [part, after]))];
  for (;;) {
    const free = left.filter((p) => !needs.some(({ part, after }) => part === p && left.includes(after)));
    if (free.length === 0) return left.length === 0;
    left = left.filter((p) => !free.includes(p));
  }
}
