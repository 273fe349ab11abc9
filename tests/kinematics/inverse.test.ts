import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import type { Arm, Joints } from '../../src/kinematics/arm.js';
import { forearmLength, shapeAngles, toDegrees } from '../../src/kinematics/arm.js';
import { forward, linkPoints } from '../../src/kinematics/forward.js';
import { BRANCH_NAMES, inverseBranch, inverseBranches } from '../../src/kinematics/inverse.js';
import { limitMiss } from '../../src/kinematics/limits.js';
import {
  between,
  CASE_1,
  CASE_2A,
  CASE_2B,
  jointDifference,
  joints,
  poseDifference,
  SET_1,
  SET_2,
  SET_3,
  SET_4,
  SKEWED,
  wellPosed,
} from './published-arms.js';

const flip = ([a, b, c, d, e, f]: Joints): Joints => [a, b, c, d + Math.PI, -e, f + Math.PI];
const contains = (found: readonly { readonly joints: Joints }[], wanted: Joints): number =>
  Math.min(...found.map((branch) => jointDifference(branch.joints, wanted)));

describe('inverseBranches', () => {
  it('gives the eight published solutions of set 1 (rs-opw-kinematics test cases, commit fb51d85)', () => {
    const published = [
      joints(-129, 17, 74, -14, 74, -45),
      joints(-129, -168.577515, 126.275608, -152.093788, 150.206532, 155.7525),
      joints(51, -173.990998, 57.822949, 17.739644, 130.250201, 142.747041),
      joints(51, -23.888527, 142.452659, 166.206963, 102.735192, -52.02914),
    ];
    const found = inverseBranches(SET_1, CASE_1);
    expect(found).toHaveLength(8);
    for (const solution of published) {
      expect(contains(found, solution)).toBeLessThan(2e-7);
      expect(contains(found, flip(solution))).toBeLessThan(2e-7);
    }
    expect(contains(found, joints(-129, 17, 74, 166, -74, 135))).toBeLessThan(1e-9);
  });

  it('gives the all-zero joints of sets 1 to 4 back from the published places (section 8 of the check values)', () => {
    // Places of all-zero poses: rs-opw-kinematics, commit fb51d85 (set 3 published, the others recomputed from the shapes).
    const ahead = [0, 0, 1, 0, 1, 0, -1, 0, 0] as const;
    for (const [arm, at] of [
      [SET_1, [940, 0, 1455]],
      [SET_2, [785, 0, 435]],
      [SET_3, [1490.5, 0, 1765]],
      [SET_4, [290, 35, 545]],
    ] as const) {
      // The forearm looks along x with a straight wrist: joints 4 and 6 add up to nothing.
      const same = inverseBranches(arm, { at, turn: ahead }).filter(
        ({ joints: [q1, q2, q3, q4, q5, q6] }) =>
          jointDifference(
            [q1, q2, q3, 0, q5, arm.signs[3] * q4 + arm.signs[5] * q6],
            joints(0, 0, 0, 0, 0, 0),
          ) < 1e-6,
      );
      expect(same.length).toBeGreaterThan(0);
    }
  });

  it('gives back the published joints of set 2, with its signs and offset', () => {
    // rs-opw-kinematics test cases, commit fb51d85
    const first = inverseBranches(SET_2, CASE_2A);
    expect(contains(first, joints(99, 124, 49, -169, -55, 82))).toBeLessThan(1e-9);
    const second = inverseBranches(SET_2, CASE_2B);
    expect(contains(second, joints(16, 13, -87, -114, -67, -109))).toBeLessThan(1e-9);
  });

  it('names the branches after what the arm does', () => {
    // Set 3 reaching ahead: the elbow above the line from shoulder to wrist, the wrist bent to the positive side.
    const taken = joints(0, 10, 30, 20, 40, 0);
    const same = inverseBranches(SET_3, forward(SET_3, taken)).find(
      (branch) => jointDifference(branch.joints, taken) < 1e-9,
    );
    expect(same).toMatchObject({ index: 0, shoulder: 'front', elbow: 'up', wrist: 'plain' });
    for (const branch of inverseBranches(SET_3, forward(SET_3, taken))) {
      expect(BRANCH_NAMES[branch.index]).toEqual({
        shoulder: branch.shoulder,
        elbow: branch.elbow,
        wrist: branch.wrist,
      });
      const { shoulder, elbow, wrist } = linkPoints(SET_3, branch.joints);
      const share = (elbow[0] - shoulder[0]) / (wrist[0] - shoulder[0]);
      const above = elbow[2] - (shoulder[2] + share * (wrist[2] - shoulder[2]));
      expect(above > 0).toBe(branch.elbow === 'up');
      expect(shoulder[0] > 0).toBe(branch.shoulder === 'front');
      expect(shapeAngles(SET_3, branch.joints)[4] > 0).toBe(branch.wrist === 'plain');
    }
  });

  it('gives none for a pose out of reach', () => {
    expect(inverseBranches(SET_3, { at: [5000, 0, 0], turn: [1, 0, 0, 0, 1, 0, 0, 0, 1] })).toEqual([]);
  });

  it('still reproduces the pose where the wrist or the arm is stretched', () => {
    for (const taken of [joints(15, 20, 10, 35, 0, 12), joints(15, 20, 10, 35, 180, 12)])
      for (const branch of inverseBranches(SET_1, forward(SET_1, taken)))
        expect(poseDifference(forward(SET_1, branch.joints), forward(SET_1, taken))).toBeLessThan(1e-6);
    const straight = joints(15, 20, -90 + toDegrees(Math.atan2(135, 755)), 35, 40, 12);
    const found = inverseBranches(SET_1, forward(SET_1, straight)).filter(
      (branch) => branch.shoulder === 'front',
    );
    expect(found).toHaveLength(4);
    for (const branch of found)
      expect(poseDifference(forward(SET_1, branch.joints), forward(SET_1, straight))).toBeLessThan(1e-6);
  });

  it('brings a joint inside its limits by whole turns where the limits allow', () => {
    const narrow: Arm = {
      ...SET_1,
      limits: [...SET_1.limits.slice(0, 5), [3, 3 + 2 * Math.PI]] as unknown as Arm['limits'],
    };
    const taken = joints(10, 20, 10, 35, 40, 300);
    const [first] = inverseBranches(narrow, forward(narrow, taken));
    expect(toDegrees(first!.joints[5])).toBeCloseTo(300, 9);
    expect(limitMiss(narrow, first!.joints)).toBeUndefined();
  });
});

describe.each([
  ['set 1', SET_1],
  ['set 2', SET_2],
  ['set 3', SET_3],
  ['set 4', SET_4],
  ['skewed', SKEWED],
] as const)('forward and inverse of %s', (_, arm) => {
  const within = (i: number) => between(arm.limits[i]![0], arm.limits[i]![1]);
  const posture = fc.tuple(within(0), within(1), within(2), within(3), within(4), within(5));

  it('finds the joints again, and every branch takes the pose', () => {
    let judged = 0;
    fc.assert(
      fc.property(posture, (taken) => {
        const pose = forward(arm, taken);
        const found = inverseBranches(arm, pose);
        expect([4, 8]).toContain(found.length);
        for (const branch of found)
          expect(poseDifference(forward(arm, branch.joints), pose)).toBeLessThan(1e-6);
        if (!wellPosed(arm, taken)) return;
        judged += 1;
        expect(contains(found, taken)).toBeLessThan(1e-6);
      }),
      { seed: 8, numRuns: 2000 },
    );
    expect(judged).toBeGreaterThan(1200);
  });

  it('gives one branch as it gives all eight, and gives none only where a link triangle cannot close', () => {
    fc.assert(
      fc.property(posture, (taken) => {
        const pose = forward(arm, taken);
        const all = inverseBranches(arm, pose);
        for (let index = 0; index < 8; index += 1) {
          const one = inverseBranch(arm, pose, index);
          const same = all.find((branch) => branch.index === index);
          if (one.ok) expect(one.value).toEqual(same);
          else {
            expect(same).toBeUndefined();
            expect(one.error.missing).toBeGreaterThan(0);
            expect(one.error.missing).toBeLessThan(2 * (arm.a1 + arm.c2 + forearmLength(arm)));
          }
        }
      }),
      { seed: 9, numRuns: 300 },
    );
  });
});
