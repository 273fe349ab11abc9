import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { distance } from '../../src/geometry/vector.js';
import { forearmLength } from '../../src/kinematics/arm.js';
import { forward, linkPoints } from '../../src/kinematics/forward.js';
import {
  between,
  CASE_1,
  CASE_2A,
  CASE_2B,
  joints,
  poseDifference,
  SET_1,
  SET_2,
  SET_3,
  SET_4,
  SKEWED,
} from './published-arms.js';

const allAt = (degrees: number) => joints(degrees, degrees, degrees, degrees, degrees, degrees);

describe('forward', () => {
  it('gives the published poses (rs-opw-kinematics test cases, commit fb51d85)', () => {
    expect(poseDifference(forward(SET_1, joints(-129, 17, 74, -14, 74, -45)), CASE_1)).toBeLessThan(1e-9);
    expect(poseDifference(forward(SET_2, joints(99, 124, 49, -169, -55, 82)), CASE_2A)).toBeLessThan(1e-9);
    expect(poseDifference(forward(SET_2, joints(16, 13, -87, -114, -67, -109)), CASE_2B)).toBeLessThan(1e-9);
  });

  it.each([
    // Sets 1, 2 and 4 recomputed from the published shapes; set 3 published. rs-opw-kinematics, commit fb51d85.
    ['set 1, all 0', SET_1, 0, [940, 0, 1455]],
    ['set 2, all 0', SET_2, 0, [785, 0, 435]],
    ['set 3, all 0', SET_3, 0, [1490.5, 0, 1765]],
    ['set 3, all 45', SET_3, 45, [734.88, 794.99, -21.32]],
    ['set 3, all -45', SET_3, -45, [-547.5, 607.6, 2559.89]],
    ['set 4, all 0', SET_4, 0, [290, 35, 545]],
  ] as const)('puts the flange in its place: %s degrees', (_, arm, degrees, place) => {
    const { at } = forward(arm, allAt(degrees));
    place.forEach((value, i) => expect(Math.abs(at[i]! - value)).toBeLessThan(0.0051));
  });

  it('points z out of the flange: set 1 at zero looks along x', () => {
    expect(
      poseDifference(forward(SET_1, allAt(0)), { at: [940, 0, 1455], turn: [0, 0, 1, 0, 1, 0, -1, 0, 0] }),
    ).toBeLessThan(1e-9);
  });
});

describe('linkPoints', () => {
  it('gives the bends of set 1 at zero', () => {
    const points = linkPoints(SET_1, allAt(0));
    const expected = {
      shoulder: [100, 0, 615],
      elbow: [100, 0, 1320],
      wrist: [855, 0, 1455],
      flange: [940, 0, 1455],
    };
    for (const [name, place] of Object.entries(expected))
      expect(distance(points[name as keyof typeof points], place as [number, number, number])).toBeLessThan(
        1e-9,
      );
  });

  it('keeps the lengths of the links in every posture', () => {
    const angle = between(-6, 6);
    fc.assert(
      fc.property(fc.tuple(angle, angle, angle, angle, angle, angle), (posture) => {
        const { shoulder, elbow, wrist, flange } = linkPoints(SKEWED, posture);
        expect(distance(shoulder, elbow)).toBeCloseTo(SKEWED.c2, 9);
        expect(distance(elbow, wrist)).toBeCloseTo(forearmLength(SKEWED), 9);
        expect(distance(wrist, flange)).toBeCloseTo(SKEWED.c4, 9);
        expect(Math.hypot(shoulder[0], shoulder[1])).toBeCloseTo(Math.hypot(SKEWED.a1, SKEWED.b), 9);
        expect(shoulder[2]).toBe(SKEWED.c1);
        expect(flange).toEqual(forward(SKEWED, posture).at);
      }),
      { seed: 8, numRuns: 300 },
    );
  });
});
