import fc from 'fast-check';
import { expect, it } from 'vitest';
import { colourIntervals } from '../../src/algorithms/interval-colouring.js';

const interval = fc
  .tuple(fc.nat(20), fc.integer({ min: 1, max: 8 }))
  .map(([from, length]) => ({ from, to: from + length }));

it('uses as many colours as intervals overlap somewhere, and no two of one colour overlap', () => {
  fc.assert(
    fc.property(fc.array(interval, { maxLength: 15 }), (intervals) => {
      const colours = colourIntervals(intervals);
      const deepest = Math.max(
        0,
        ...Array.from(
          { length: 30 },
          (_, at) => intervals.filter(({ from, to }) => from <= at && at < to).length,
        ),
      );
      expect(new Set(colours).size).toBe(deepest);
      intervals.forEach((a, i) =>
        intervals.forEach((b, j) => {
          if (i < j && colours[i] === colours[j]) expect(a.to <= b.from || b.to <= a.from).toBe(true);
        }),
      );
    }),
  );
});
