import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import type { Arm } from '../../src/kinematics/arm.js';
import { jointValue, shapeAngles } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { inverseBranches } from '../../src/kinematics/inverse.js';
import { admissibleTurns, elbowMiss, limitMiss } from '../../src/kinematics/limits.js';
import { DEFAULT_WRIST_MARGIN, jointsMiss, reach } from '../../src/kinematics/reach.js';
import { armAndJoints } from './any-arm.js';
import { jointDifference, joints, poseDifference, radians, SET_3, wellPosed } from './published-arms.js';

describe('any arm, coupled or not', () => {
  it('turns joints into shape angles and back', () => {
    fc.assert(
      fc.property(armAndJoints, ([arm, taken]) => {
        const angles = shapeAngles(arm, taken);
        taken.forEach((value, i) => expect(jointValue(arm, angles, i)).toBeCloseTo(value, 9));
      }),
      { seed: 4 },
    );
  });

  it('takes a pose again by every branch, and among them by the joints that gave it, at the turn that gave it', () => {
    let [judged, coupled] = [0, 0];
    fc.assert(
      fc.property(armAndJoints, ([arm, taken]) => {
        const pose = forward(arm, taken);
        const found = inverseBranches(arm, pose);
        for (const branch of found)
          expect(poseDifference(forward(arm, branch.joints), pose)).toBeLessThan(1e-6);
        if (!wellPosed(arm, taken) || jointsMiss(arm, taken, DEFAULT_WRIST_MARGIN) !== undefined) return;
        judged += 1;
        if (arm.coupled === true) coupled += 1;
        const reached = reach(arm, pose);
        if (!reached.ok) throw new Error(JSON.stringify(reached.error));
        const same = reached.value.find((branch) => jointDifference(branch.joints, taken) < 1e-6)!;
        const turns = admissibleTurns(arm, same.joints);
        expect(turns[0]).toEqual(same.joints);
        const off = turns.map((turn) => Math.max(...turn.map((value, i) => Math.abs(value - taken[i]!))));
        if (turns.length < 64) expect(Math.min(...off)).toBeLessThan(1e-6);
        for (const turn of turns) {
          expect(limitMiss(arm, turn) ?? elbowMiss(arm, turn)).toBeUndefined();
          expect(poseDifference(forward(arm, turn), pose)).toBeLessThan(1e-6);
        }
      }),
      { seed: 4, numRuns: 3000 },
    );
    expect(judged).toBeGreaterThan(1500);
    expect(coupled).toBeGreaterThan(500);
  });
});

describe('a coupled arm', () => {
  const COUPLED: Arm = { ...SET_3, coupled: true };

  it('keeps the direction of its forearm when joint 2 moves, and an uncoupled one the angle of its elbow', () => {
    const forearm = (arm: Arm, q2: number) => {
      const [, t2, t3] = shapeAngles(arm, joints(0, q2, 20, 0, 30, 0));
      return t2 + t3;
    };
    expect(forearm(COUPLED, 40)).toBeCloseTo(forearm(COUPLED, -10), 12);
    expect(forearm(SET_3, 40) - forearm(SET_3, -10)).toBeCloseTo(radians(50), 12);
    // By hand: 20 - (-90) - 40 degrees.
    expect(shapeAngles(COUPLED, joints(0, 40, 20, 0, 30, 0))[2]).toBeCloseTo(radians(70), 12);
  });

  it('is where an uncoupled one is with joint 3 less joint 2', () => {
    expect(forward(COUPLED, joints(10, 35, 20, 5, 30, 8))).toEqual(
      forward(SET_3, joints(10, 35, -15, 5, 30, 8)),
    );
  });

  it('says by how much its elbow is past its range, whole turns aside', () => {
    const arm: Arm = { ...COUPLED, elbow: [radians(20), radians(160)] };
    // Joint 3 at 20 and joint 2 at 100: the elbow at 20 + 90 - 100 = 10 degrees.
    const miss = jointsMiss(arm, joints(0, 100, 20, 0, 30, 0), DEFAULT_WRIST_MARGIN);
    expect(miss).toMatchObject({ kind: 'elbow' });
    expect(miss?.degrees).toBeCloseTo(10, 6);
    expect(miss?.kind === 'elbow' && miss.value).toBeCloseTo(10, 9);
    expect(miss?.kind === 'elbow' && miss.limit).toBeCloseTo(20, 9);
    expect(elbowMiss(arm, joints(0, 40, 20 + 360, 0, 30, 0))).toBeUndefined();
    expect(elbowMiss({ ...arm, coupled: false }, joints(0, 100, 20, 0, 30, 0))).toBeUndefined();
  });

  it('is out of reach by its elbow when every branch is', () => {
    const arm: Arm = { ...COUPLED, elbow: [radians(5), radians(10)] };
    const found = reach(arm, forward(COUPLED, joints(10, 35, 20, 5, 30, 8)));
    expect(found).toMatchObject({ ok: false, error: { kind: 'elbow' } });
  });
});
