import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  adjoin,
  axesOf,
  between,
  cornersOf,
  halfWay,
  middleOf,
  sampledPlaces,
  valuesAt,
  type Place,
} from '../../src/family/places.js';

const range = (low: number, high: number, resolution?: number) => ({ low, high, resolution });
const height = { name: 'height', range: range(150, 260, 5) };
const width = { name: 'width', range: range(0, 1, 0.3) };

describe('places in ranges', () => {
  it('are steps of the resolution, the last one shorter; a 64th of the range where none is given', () => {
    const axes = axesOf({
      parameters: [height, { name: 'ribs' }, width, { name: 'depth', range: range(1, 2) }],
    });
    expect(axes.map(({ name, steps }) => [name, steps])).toEqual([
      ['height', 22],
      ['width', 4],
      ['depth', 64],
    ]);
    expect(valuesAt(axes, [1, 3, 32])).toEqual({ height: 155, width: 0.9, depth: 1.5 });
    expect(valuesAt(axes, [22, 4, 64])).toEqual({ height: 260, width: 1, depth: 2 });
    // 0.3 / 0.1 is a last bit more or less than 3.
    expect(axesOf({ parameters: [{ name: 'x', range: range(0, 0.3, 0.1) }] })[0]!.steps).toBe(3);
  });

  it('have all corners of four ranges, of more the ends of each and both extremes', () => {
    const axes = (many: number) =>
      axesOf({ parameters: Array.from({ length: many }, (_, i) => ({ ...height, name: `p${i}` })) });
    expect(cornersOf(axes(0))).toEqual([]);
    expect(cornersOf(axes(1))).toEqual([[0], [22]]);
    expect(cornersOf(axes(2))).toEqual([
      [0, 0],
      [0, 22],
      [22, 0],
      [22, 22],
    ]);
    expect(cornersOf(axes(4))).toHaveLength(16);
    const five = cornersOf(axes(5));
    expect(five).toHaveLength(12);
    expect(new Set(five.map(String)).size).toBe(12);
    expect(middleOf(axes(2))).toEqual([11, 11]);
  });

  it('are sampled one in each stretch of each range, the same by the same seed', () => {
    const axes = axesOf({
      parameters: [
        { name: 'a', range: range(0, 1000, 1) },
        { name: 'b', range: range(0, 10) },
      ],
    });
    const places = sampledPlaces(axes, 10, 7, []);
    expect(places).toHaveLength(10);
    for (const [i, { steps }] of axes.entries()) {
      const stretches = places.map((place) => Math.min(9, Math.floor((place[i]! / steps) * 10)));
      // A place on the border of two stretches may count to the next one.
      expect(new Set(stretches).size).toBeGreaterThanOrEqual(9);
    }
    expect(sampledPlaces(axes, 10, 7, [])).toEqual(places);
    expect(sampledPlaces(axes, 10, 8, [])).not.toEqual(places);
    expect(sampledPlaces(axes, 10, 7, [places[3]!])).toEqual(places.toSpliced(3, 1));
    expect(sampledPlaces([], 10, 7, [])).toEqual([]);
  });

  it('are halved until they adjoin, always between both', () => {
    const place = fc.tuple(fc.nat(100), fc.nat(100), fc.nat(3));
    fc.assert(
      fc.property(place, place, fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }), (a, b, turns) => {
        let [works, fails]: [Place, Place] = [a, b];
        let halvings = 0;
        for (; !adjoin(works, fails); halvings += 1) {
          const middle = halfWay(works, fails);
          expect(between(middle, works, fails)).toBe(true);
          if (turns[halvings]) works = middle;
          else fails = middle;
        }
        expect(halvings).toBeLessThanOrEqual(7);
      }),
      { numRuns: 300, seed: 51 },
    );
  });
});
