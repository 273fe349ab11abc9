import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { profileTime, straightMoveTime, straightTime, travelTime } from '../../src/kinematics/travel.js';
import { forward } from '../../src/kinematics/forward.js';
import { inverseBranch } from '../../src/kinematics/inverse.js';
import { turnedNearJoints } from '../../src/kinematics/limits.js';
import { straightPath } from '../../src/kinematics/straight-path.js';
import { straightSamples } from '../../src/kinematics/straight-samples.js';
import { straightSeconds } from '../../src/rules/straight-seconds.js';
import type { Arm, Joints } from '../../src/kinematics/arm.js';
import { fromRollPitchYaw, type Pose } from '../../src/geometry/pose.js';
import { joints, poseDifference, radians, SET_1 } from './published-arms.js';

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

/** Joint 1 by the share of the way, the others still. */
const course = (first: (share: number) => number, intervals = 10): Joints[] =>
  Array.from({ length: intervals + 1 }, (_, i) => [first(i / intervals), 0, 0, 0, 0, 0]);

describe('straightMoveTime', () => {
  const still = course(() => 0);

  it.each([
    // Worked values of the trapezoid: d/v + v/a and 2 sqrt(d/a).
    [1, 0.5, 1, 2.5],
    [0.1, 0.5, 1, 0.632456],
    [0.25, 0.5, 1, 1],
    [10, 0.5, 0.3, 21.6667],
    [0, 0.5, 1, 0],
  ])(
    'is the trapezoid of the path where no joint is slower: %d at %d and %d in %d s',
    (way, v, a, seconds) => {
      expect(straightMoveTime(SET_1, still, way, v, a)).toBeCloseTo(seconds, seconds > 10 ? 4 : 6);
      expect(straightMoveTime(SET_1, still, way, v, a)).toBe(way === 0 ? 0 : straightTime(way, v, a));
    },
  );

  it('lowers the speed and the acceleration of the whole way to those of the slowest joint', () => {
    // One radian evenly over 100 mm; joint 1: 0.5 rad/s, 4 rad/s2. 1/0.5 + 0.5/4 s, although the path asks for 1.1 s.
    const slow = { ...SET_1, speeds: [0.5, 2, 2, 2, 2, 2] as const };
    expect(
      straightMoveTime(
        slow,
        course((u) => u),
        100,
        100,
        1000,
      ),
    ).toBeCloseTo(2.125, 9);
    // The same turn on the spot.
    expect(
      straightMoveTime(
        slow,
        course((u) => u),
        0,
        100,
        1000,
      ),
    ).toBeCloseTo(2.125, 9);
  });

  it('leaves half the acceleration of a joint for the bends of its course', () => {
    // q = u^2 over ten intervals: R = 1.9, B = 2. With A = 4: v = sqrt(4/4) = 1, a = (4 - 2)/1.9; S = 100 does not count.
    const quick = { ...SET_1, speeds: [100, 2, 2, 2, 2, 2] as const };
    const [v, a] = [1, 2 / 1.9];
    expect(v * v).toBeLessThan(a);
    expect(
      straightMoveTime(
        quick,
        course((u) => u * u),
        1,
        1000,
        1000,
      ),
    ).toBeCloseTo(1 / v + v / a, 9);
  });

  it('is never below the time of the path alone, nor below that of the slowest joint', () => {
    const angle = fc.double({ min: -2, max: 2, noNaN: true });
    const sizes = fc.tuple(...Array.from({ length: 3 }, () => fc.double({ min: 1, max: 1000, noNaN: true })));
    fc.assert(
      fc.property(fc.array(angle, { minLength: 2, maxLength: 20 }), sizes, (values, [way, v, a]) => {
        const samples = values.map((value): Joints => [value, 0, 0, 0, 0, 0]);
        const seconds = straightMoveTime(SET_1, samples, way!, v!, a!);
        expect(seconds).toBeGreaterThanOrEqual(straightTime(way!, v!, a!) - 1e-9);
        expect(seconds).toBeGreaterThanOrEqual(travelTime(SET_1, samples[0]!, samples.at(-1)!) - 1e-9);
      }),
      { seed: 6 },
    );
  });
});

describe('straightMoveTime on a way close by axis 1', () => {
  const down = (x: number, y: number, z: number): Pose => ({
    at: [x, y, z],
    turn: fromRollPitchYaw(180, 0, 0),
  });
  const [from, to] = [down(-250, 90, 1500), down(250, 90, 1500)];
  const solved = (arm: Arm, pose: Pose, near?: Joints): Joints => {
    const found = inverseBranch(arm, pose, 0);
    if (!found.ok) throw new Error('out of reach');
    return near ? turnedNearJoints(found.value.joints, near) : found.value.joints;
  };
  const start = solved(SET_1, from);
  const samples = straightSamples(SET_1, start, solved(SET_1, to, start));

  it('is timed by samples on the way, in one branch', () => {
    expect(samples).toHaveLength(51);
    samples.forEach((sample, i) => {
      expect(poseDifference(forward(SET_1, sample), straightPath(from, to).at(i / 50))).toBeLessThan(1e-6);
    });
  });

  it('takes as long as joint 1 needs at an even speed where it turns fastest, tried in many small steps', () => {
    const seconds = straightMoveTime(SET_1, samples, 500, 600, 3000);
    expect(seconds).toBeGreaterThan(2 * straightTime(500, 600, 3000));
    const steps = 2000;
    const at = (share: number) => solved(SET_1, straightPath(from, to).at(share), start);
    const rates = Array.from(
      { length: steps },
      (_, i) => Math.abs(at((i + 1) / steps)[0] - at(i / steps)[0]) * steps,
    );
    const [first] = SET_1.speeds;
    expect(seconds).toBeGreaterThan((0.98 * Math.max(...rates)) / first);
  });

  it('agrees with the checker, which works it out for itself', () => {
    const mover = { arm: SET_1, straightSpeed: 600, straightAcceleration: 3000 };
    const seconds = straightMoveTime(SET_1, samples, 500, 600, 3000);
    expect(straightSeconds(mover, samples[0]!, samples.at(-1)!)).toBeCloseTo(seconds, 6);
    const slow = { arm: SET_1, straightSpeed: 60, straightAcceleration: 300 };
    expect(straightSeconds(slow, samples[0]!, samples.at(-1)!)).toBeCloseTo(
      straightMoveTime(SET_1, samples, 500, 60, 300),
      6,
    );
    expect(straightSeconds(slow, samples[0]!, samples[0]!)).toBeCloseTo(0, 6);
  });
});
