import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { profileTime, straightTime, travelTime } from '../../src/kinematics/travel.js';
import { joints, radians, SET_1 } from './published-arms.js';

describe('profileTime', () => {
  it.each([
    // Worked values: d/v + v/a and 2 sqrt(d/a).
    [1, 0.5, 1, 2.5],
    [0.1, 0.5, 1, 0.632456],
    [0.25, 0.5, 1, 1],
    [10, 0.5, 0.3, 21.6667],
    [0, 0.5, 1, 0],
  ])('covers %d at speed %d and acceleration %d in %d s', (distance, speed, acceleration, seconds) => {
    expect(profileTime(distance, speed, acceleration)).toBeCloseTo(seconds, seconds > 10 ? 4 : 6);
    expect(profileTime(-distance, speed, acceleration)).toBe(profileTime(distance, speed, acceleration));
    expect(straightTime(distance, speed, acceleration)).toBe(profileTime(distance, speed, acceleration));
  });

  it('is what stepping through the motion gives', () => {
    const positive = (max: number) => fc.double({ min: 0.1, max, noNaN: true });
    fc.assert(
      fc.property(positive(20), positive(5), positive(5), (distance, speed, acceleration) => {
        const step = 1e-3;
        let [seconds, velocity, covered] = [0, 0, 0];
        while (covered < distance / 2) {
          const next = Math.min(speed, velocity + acceleration * step);
          covered += ((velocity + next) / 2) * step;
          velocity = next;
          seconds += step;
        }
        expect(Math.abs(2 * seconds - profileTime(distance, speed, acceleration))).toBeLessThan(4 * step);
      }),
      { seed: 8 },
    );
  });
});

describe('travelTime', () => {
  const home = joints(0, 0, 0, 0, 0, 0);

  it('is the time of the slowest joint', () => {
    // 2 rad/s and 4 rad/s2: full speed needs 1 rad. 114.59 degrees are 2 rad: 2/2 + 2/4 s.
    expect(travelTime(SET_1, home, [0, 0.25, 0, -2, 0, 1])).toBeCloseTo(1.5, 12);
    expect(travelTime(SET_1, home, [0, 0.25, 0, 0, 0, 0])).toBeCloseTo(0.5, 12);
    expect(travelTime(SET_1, home, home)).toBe(0);
    const slow = { ...SET_1, speeds: [2, 0.1, 2, 2, 2, 2] as const };
    expect(travelTime(slow, home, [0, 0.25, 0, -2, 0, 1])).toBeCloseTo(2.5 + 0.025, 12);
  });

  it('is the same there and back', () => {
    const there = joints(10, -20, 30, -40, 50, radians(60));
    expect(travelTime(SET_1, home, there)).toBe(travelTime(SET_1, there, home));
  });
});
