import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nonDominated } from '../../src/algorithms/pareto.js';

const front = (points: readonly (readonly number[])[]) => nonDominated(points, (point) => point);

describe('the non-dominated of some points', () => {
  it('are those that no other one beats, least first value first', () => {
    const points = [
      [3, 1],
      [1, 5],
      [2, 2],
      [2, 4],
      [3, 3],
    ];
    expect(front(points)).toEqual([
      [1, 5],
      [2, 2],
      [3, 1],
    ]);
  });

  it('are one alone where it is best in both, and none of no points', () => {
    expect(
      front([
        [2, 2],
        [1, 1],
        [1, 2],
      ]),
    ).toEqual([[1, 1]]);
    expect(front([])).toEqual([]);
  });

  it('keep the first of equal ones', () => {
    const items = [
      { name: 'late', at: [1, 2] },
      { name: 'later', at: [1, 2] },
    ];
    expect(nonDominated(items, ({ at }) => at).map(({ name }) => name)).toEqual(['late']);
  });

  it('leave nothing out that is not beaten: every point is among them, or beaten or equalled by one of them', () => {
    const points = fc.array(fc.tuple(fc.nat(5), fc.nat(5)), { maxLength: 15 });
    fc.assert(
      fc.property(points, (all) => {
        const kept = front(all);
        for (const [x, y] of all) expect(kept.some(([a, b]) => a! <= x && b! <= y)).toBe(true);
        for (const [i, [x, y]] of kept.entries())
          if (i > 0) expect(kept[i - 1]![0]! < x! && kept[i - 1]![1]! > y!).toBe(true);
      }),
      { seed: 6 },
    );
  });
});
