import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { besideArea, freePlace, spread, type Box } from '../../src/report/label-places.js';
import { textWidth } from '../../src/report/svg.js';

const AREA: Box = { x: 100, y: 50, width: 400, height: 300 };

describe('spread', () => {
  it('keeps heights that are far enough apart', () => {
    expect(spread([60, 120, 200], 20, 50, 350)).toEqual([60, 120, 200]);
  });

  it('moves others no nearer than the least distance, inside the limits', () => {
    const height = fc.integer({ min: 50, max: 350 });
    fc.assert(
      fc.property(fc.array(height, { minLength: 1, maxLength: 14 }), (wished) => {
        const heights = spread(
          [...wished].sort((p, q) => p - q),
          22,
          50,
          350,
        );
        heights.forEach((own, i) => {
          expect(own).toBeLessThanOrEqual(350 + 1e-9);
          if (i > 0) expect(own - heights[i - 1]!).toBeGreaterThanOrEqual(22 - 1e-9);
        });
      }),
    );
  });
});

describe('besideArea', () => {
  it('puts labels left and right, none on another', () => {
    const labels = [
      { text: 'a', anchor: [150, 100] as const },
      { text: 'b', anchor: [160, 101] as const },
      { text: 'c', anchor: [450, 100] as const },
    ];
    const placed = besideArea(labels, AREA);
    expect(placed.map(({ label, side }) => `${label.text} ${side}`)).toEqual(['a left', 'b left', 'c right']);
    expect(placed[1]!.at[1] - placed[0]!.at[1]).toBe(22);
    expect(placed.map(({ at }) => at[0])).toEqual([100, 100, 500]);
  });

  it('changes the places of two whose lines would cross', () => {
    const crossing = [
      { text: 'far', anchor: [290, 100] as const },
      { text: 'near', anchor: [110, 104] as const },
      { text: 'low', anchor: [120, 112] as const },
    ];
    const onLeft = besideArea(
      [...crossing, ...[480, 485, 490].map((x) => ({ text: 'r', anchor: [x, 60] as const }))],
      AREA,
    );
    const left = onLeft.filter(({ side }) => side === 'left');
    expect(left.map(({ label }) => label.text).sort()).toEqual(['far', 'low', 'near']);
    const turn = (a: readonly number[], b: readonly number[], c: readonly number[]): number =>
      (b[0]! - a[0]!) * (c[1]! - a[1]!) - (b[1]! - a[1]!) * (c[0]! - a[0]!);
    for (const p of left)
      for (const q of left) {
        const [a, b, c, d] = [p.at, p.label.anchor, q.at, q.label.anchor];
        expect(p !== q && turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0).toBe(false);
      }
  });
});

describe('freePlace', () => {
  it('finds room beside what is there and takes it', () => {
    const taken: Box[] = [{ x: 0, y: -40, width: 200, height: 80 }];
    const [x] = freePlace('J1.1', 12, [0, 0], taken);
    expect(x + textWidth('J1.1', 12) / 2).toBeLessThanOrEqual(0);
    expect(taken).toHaveLength(2);
    const [again, height] = freePlace('J1.1', 12, [0, 0], taken);
    expect([again, height]).not.toEqual([x, 0]);
  });
});
