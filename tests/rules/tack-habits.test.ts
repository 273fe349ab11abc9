import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.js';
import { TACK_HABITS } from '../../src/model/tack-habit.js';
import { inHabit, type HabitTack } from '../../src/rules/tack-habits.js';

interface Named extends HabitTack {
  readonly name: string;
}

/** Tacks at these places on a seam along x, or against it. */
const seam = (id: string, y: number, places: readonly number[], way = 1): Named[] =>
  places.map((x) => ({ name: `${id}${x}`, seam: id, at: [x, y, 0], along: [way, 0, 0] as Vec3 }));

const SEAMS = ['a', 'b', 'c', 'd'];

const names = (tacks: readonly Named[]): string => tacks.map(({ name }) => name).join(' ');

const LONG = seam('a', 0, [0, 100, 200, 300, 400]);
// The second side runs the other way.
const SIDES = [...seam('a', 0, [0, 100, 200]), ...seam('b', 8, [200, 100, 0], -1)];

describe('habits', () => {
  it('take the ends first, then halves, then quarters', () => {
    expect(names(inHabit('ends-first', SEAMS, LONG))).toBe('a0 a400 a200 a100 a300');
    expect(names(inHabit('ends-first', SEAMS, SIDES))).toBe('a0 b200 a200 b0 a100 b100');
  });

  it('go along one seam after the other', () => {
    expect(names(inHabit('seam-by-seam', SEAMS, [...LONG].reverse()))).toBe('a0 a100 a200 a300 a400');
    expect(names(inHabit('seam-by-seam', SEAMS, SIDES))).toBe('a0 a100 a200 b200 b100 b0');
  });

  it('change sides at each place, whichever way the seams run', () => {
    expect(names(inHabit('alternate-sides', SEAMS, SIDES))).toBe('a0 b0 a100 b100 a200 b200');
    const staggered = [...seam('a', 0, [0, 100]), ...seam('b', 8, [150, 50], -1)];
    expect(names(inHabit('alternate-sides', SEAMS, staggered))).toBe('a0 b50 a100 b150');
  });

  it('start in the middle', () => {
    expect(names(inHabit('middle-out', SEAMS, LONG))).toBe('a200 a300 a100 a400 a0');
    expect(names(inHabit('middle-out', SEAMS, LONG.slice(0, 4)))).toBe('a100 a200 a0 a300');
  });

  it('lose none and repeat none, also around a corner', () => {
    const around: Named[] = [
      ...SIDES,
      { name: 'c', seam: 'c', at: [200, 4, 0], along: [0, 1, 0] },
      { name: 'd', seam: 'd', at: [0, 4, 0], along: [0.8, 0.6, 0] },
    ];
    for (const habit of TACK_HABITS) {
      expect(new Set(inHabit(habit, SEAMS, around))).toEqual(new Set(around));
      expect(inHabit(habit, SEAMS, around)).toHaveLength(around.length);
      expect(inHabit(habit, SEAMS, [])).toEqual([]);
    }
  });
});
