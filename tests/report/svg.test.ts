import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pathOf, type Point } from '../../src/report/svg.js';
import { pathPoints } from './path-points.js';

describe('a path', () => {
  it('is told in steps, the shortest way', () => {
    const points: Point[] = [
      [454.15, 229.05],
      [430.46, 215.37],
      [430.46, 250.19],
      [454.15, 250.19],
      [454.15, 250.19],
      [454.65, 251],
    ];
    expect(pathOf(points, true)).toBe('M454.2 229.1l-23.7-13.7v34.8h23.7l.5 .8z');
    expect(pathOf([[-0.02, 0.5]], false)).toBe('M0 .5');
  });

  it('is never off by more than half a tenth, however many steps it has', () => {
    const place = fc.double({ min: -2000, max: 2000, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(place, place), { minLength: 1, maxLength: 40 }), (points) => {
        const [read] = pathPoints(pathOf(points, false));
        const tenth = ([x, y]: Point): string => `${Math.round(x * 10)} ${Math.round(y * 10)}`;
        const kept = points.map(tenth).filter((own, i, all) => own !== all[i - 1]);
        expect(read!.map(tenth).map((own) => own.replace(/-0\b/g, '0'))).toEqual(
          kept.map((own) => own.replace(/-0\b/g, '0')),
        );
      }),
      { seed: 9 },
    );
  });
});
