import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import type { Joints } from '../../src/kinematics/arm.js';
import { branchOf, wholeTurns } from '../../src/kinematics/branch-of.js';
import { forward } from '../../src/kinematics/forward.js';
import { BRANCH_NAMES, inverseBranches } from '../../src/kinematics/inverse.js';
import { joints, SET_1, SET_2, SET_3, SET_4, SKEWED, wellPosed } from './published-arms.js';

const ARMS = [SET_1, SET_2, SET_3, SET_4, SKEWED];
const angle = fc.double({ min: -3, max: 3, noNaN: true });
const anyJoints = fc.tuple(angle, angle, angle, angle, angle, angle) as fc.Arbitrary<Joints>;

describe('branchOf', () => {
  it('names each solution of the closed form as that names it', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ARMS), anyJoints, (arm, given) => {
        fc.pre(wellPosed(arm, given));
        for (const { index, joints: found } of inverseBranches(arm, forward(arm, given)))
          expect(branchOf(arm, found)).toEqual(BRANCH_NAMES[index]);
      }),
      { seed: 1, numRuns: 300 },
    );
  });
});

describe('wholeTurns', () => {
  it('counts from 180 degrees on', () => {
    expect(wholeTurns(joints(0, 179, -179, 181, -350, 541))).toEqual([0, 0, 0, 1, -1, 2]);
  });
});
