import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import type { Arm } from '../../src/kinematics/arm.js';
import { forearmLength, sixOf, toDegrees } from '../../src/kinematics/arm.js';
import type { Pose } from '../../src/geometry/pose.js';
import { NO_TURN, translate } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { distance, scale, subtract, unit } from '../../src/geometry/vector.js';
import { forward, linkPoints } from '../../src/kinematics/forward.js';
import { reach } from '../../src/kinematics/reach.js';
import {
  between,
  jointDifference,
  heldNear,
  joints,
  radians,
  SET_1,
  SET_3,
  SET_4,
  SKEWED,
} from './published-arms.js';

const TAKEN = joints(10, 20, -10, 30, 60, 20);
const HELD = heldNear(SET_3, TAKEN, 15);

/** The held arm with other limits, in degrees, for one joint. */
const withLimit = (joint: number, low: number, high: number): Arm => ({
  ...HELD,
  limits: sixOf((i) => (i === joint - 1 ? ([radians(low), radians(high)] as const) : HELD.limits[i]!)),
});

/** The joint value of axis 3, degrees, that stretches the arm (turned 180 from there, it folds it). */
const straightThird = (arm: Arm): number =>
  toDegrees(arm.signs[2] * (-Math.atan2(arm.a2, arm.c3) + arm.offsets[2]));

/** The pose of a posture, moved by `pull` mm along the line from its shoulder to its wrist centre. */
function pulled(arm: Arm, posture: readonly number[], pull: number): Pose {
  const { shoulder, wrist } = linkPoints(arm, joints(...posture));
  return translate(forward(arm, joints(...posture)), scale(unit(subtract(wrist, shoulder)), pull));
}

function missOf(arm: Arm, pose: Pose) {
  const found = reach(arm, pose);
  if (found.ok) throw new Error('the pose was taken');
  return found.error;
}

describe('reach, in mm', () => {
  it.each([
    ['set 1', SET_1],
    ['set 3', SET_3],
    ['set 4, plane of the arm beside axis 1', SET_4],
    ['skewed', SKEWED],
  ] as const)('says by how much a stretched arm is overpulled: %s', (_, arm) => {
    for (const pull of [0.001, 50, 400]) {
      const miss = missOf(arm, pulled(arm, [30, 25, straightThird(arm), 40, 60, 20], pull));
      expect(miss).toMatchObject({ kind: 'distance', side: 'too-far' });
      expect(miss.kind === 'distance' ? miss.missing : NaN).toBeCloseTo(pull, 7);
    }
  });

  it('takes the stretched arm itself, and a last bit beyond it', () => {
    const posture = [30, 25, straightThird(SET_1), 40, 60, 20];
    expect(reach(SET_1, pulled(SET_1, posture, 0)).ok).toBe(true);
    expect(reach(SET_1, pulled(SET_1, posture, 1e-9)).ok).toBe(true);
  });

  it('says by how much a place is too close to the shoulder', () => {
    // Facing it, the wrist centre is 20 mm above the shoulder; turned away, 20 mm to the side as well, which is less short.
    const inner = forearmLength(SET_3) - 1095;
    expect(inner).toBeCloseTo(147.8818, 3);
    const shallow: Arm = { ...SET_3, a1: 10 };
    const both = missOf(shallow, { at: [10, 0, 600], turn: NO_TURN });
    expect(both).toMatchObject({ kind: 'distance', side: 'too-close' });
    expect(both.kind === 'distance' ? both.missing : NaN).toBeCloseTo(inner - Math.hypot(20, 20), 7);
  });

  it('says by how much a place is too close to axis 1 for an arm beside it', () => {
    // Set 4: the plane of the arm passes 35 mm beside axis 1, this wrist centre only 5 mm.
    const miss = missOf(SET_4, { at: [3, 4, 320 + 200 + 65], turn: NO_TURN });
    expect(miss).toMatchObject({ kind: 'distance', side: 'too-close' });
    expect(miss.kind === 'distance' ? miss.missing : NaN).toBeCloseTo(30, 9);
  });

  it('is the true distance to the places the arm can bring its wrist to (tried against a fine grid)', () => {
    const ring = (steps: number): Vec3[] => {
      const places: Vec3[] = [];
      for (let i = 0; i < steps; i += 1)
        for (const size of [SET_3.c2 + forearmLength(SET_3), forearmLength(SET_3) - SET_3.c2]) {
          const angle = (2 * Math.PI * i) / steps;
          places.push([SET_3.a1 + size * Math.sin(angle), 0, SET_3.c1 + size * Math.cos(angle)]);
        }
      return places;
    };
    const edge = ring(7200);
    const coordinate = between(-6000, 6000);
    let judged = 0;
    fc.assert(
      fc.property(coordinate, coordinate, (x, z) => {
        const found = reach(SET_3, { at: [Math.abs(x), 0, z + 85], turn: NO_TURN });
        if (found.ok || found.error.kind !== 'distance') return;
        judged += 1;
        const nearest = Math.min(...edge.map((place) => distance(place, [Math.abs(x), 0, z])));
        expect(nearest).toBeGreaterThan(found.error.missing - 1e-6);
        expect(nearest).toBeLessThan(found.error.missing + 2);
      }),
      { seed: 8, numRuns: 400 },
    );
    expect(judged).toBeGreaterThan(100);
  });
});

describe('reach, in degrees', () => {
  it('names the joint past its limit, its value and by how much', () => {
    // Joint 5 stands at 100 degrees and may go to 90; flipped it would stand at -100 and may go to 0.
    const arm = withLimit(5, 0, 90);
    const miss = missOf(arm, forward(arm, joints(10, 20, -10, 30, 100, 20)));
    expect(miss).toMatchObject({ kind: 'limit', joint: 5 });
    if (miss.kind !== 'limit') return;
    expect(miss.degrees).toBeCloseTo(10, 7);
    expect(miss.value).toBeCloseTo(100, 7);
    expect(miss.limit).toBeCloseTo(90, 9);
  });

  it('measures from the lower limit too', () => {
    const arm = withLimit(1, -30, 30);
    const miss = missOf(arm, forward(arm, joints(-37, 20, -10, 30, 60, 20)));
    expect(miss).toMatchObject({ kind: 'limit', joint: 1 });
    if (miss.kind !== 'limit') return;
    expect(miss.degrees).toBeCloseTo(7, 7);
    expect(miss.value).toBeCloseTo(-37, 7);
    expect(miss.limit).toBeCloseTo(-30, 9);
  });

  it('takes a joint that stands on its limit', () => {
    const arm = withLimit(1, -30, 30);
    const found = reach(arm, forward(arm, joints(30, 20, -10, 30, 60, 20)));
    expect(found.ok && found.value[0]!.margin).toBe(0);
  });

  it('refuses a wrist bent less than asked, and says how much it is bent', () => {
    const pose = forward(HELD, joints(10, 20, -10, 30, 1.5, 20));
    const miss = missOf(HELD, pose);
    expect(miss).toMatchObject({ kind: 'wrist-singular' });
    if (miss.kind !== 'wrist-singular') return;
    expect(miss.degrees).toBeCloseTo(1.5, 6);
    expect(miss.needed).toBeCloseTo(2, 9);
    expect(reach(HELD, pose, Math.sin(radians(1.4))).ok).toBe(true);
    expect(reach(HELD, forward(HELD, joints(10, 20, -10, 30, 2.1, 20))).ok).toBe(true);
  });

  it('reports the branch that misses by the fewest degrees, and in it what misses by most', () => {
    // Both wrists lack 1.5 degrees; joint 1 is 0.8 past its limit, then 2.5.
    const pose = forward(HELD, joints(10, 20, -10, 30, 0.5, 20));
    expect(missOf(withLimit(1, -20, 9.2), pose).kind).toBe('wrist-singular');
    expect(missOf(withLimit(1, -20, 7.5), pose)).toMatchObject({ kind: 'limit', joint: 1 });
  });
});

describe('reach, the order of its branches', () => {
  it('puts the largest margin first and keeps only what is allowed', () => {
    const found = reach(SET_3, forward(SET_3, TAKEN));
    expect(found.ok).toBe(true);
    if (!found.ok) return;
    expect(found.value.length).toBeGreaterThan(2);
    const margins = found.value.map((branch) => branch.margin);
    expect(margins).toEqual([...margins].sort((a, b) => b - a));
    expect(found.value.some((branch) => jointDifference(branch.joints, TAKEN) < 1e-9)).toBe(true);
    for (const { joints: values, margin, wristSine } of found.value) {
      const nearest = Math.min(...values.map((value) => radians(200) - Math.abs(value)));
      expect(margin).toBeCloseTo(nearest, 8);
      expect(margin).toBeGreaterThanOrEqual(0);
      expect(wristSine).toBeCloseTo(Math.abs(Math.sin(values[4])), 9);
    }
  });

  it('breaks equal margins by the index of the branch', () => {
    // Joint 1 alone sets the margin, 1 degree from its limit, whichever way the wrist is turned.
    const arm = withLimit(1, -30, 11);
    const found = reach(arm, forward(arm, TAKEN));
    expect(found.ok && found.value.map((branch) => [branch.index, branch.wrist])).toEqual([
      [0, 'plain'],
      [1, 'flipped'],
    ]);
    expect(found.ok && found.value[0]!.margin).toBeCloseTo(radians(1), 8);
  });
});
