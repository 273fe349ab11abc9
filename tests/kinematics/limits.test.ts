import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { limitMargin, limitMiss, turnedIntoLimits, turnedNear } from '../../src/kinematics/limits.js';
import { between, joints, radians, SET_1, SKEWED } from './published-arms.js';

const TURN = 2 * Math.PI;

describe('whole turns', () => {
  it('bring a value within half a turn of the target and change nothing else', () => {
    const angle = between(-50, 50);
    fc.assert(
      fc.property(angle, angle, (value, target) => {
        const turned = turnedNear(value, target);
        expect(Math.abs(turned - target)).toBeLessThanOrEqual(Math.PI + 2e-9);
        const turns = (turned - value) / TURN;
        expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-9);
      }),
      { seed: 8 },
    );
  });

  it('go above the target from exactly opposite, whatever the last bit', () => {
    for (const bit of [-1e-12, 0, 1e-12]) {
      expect(turnedNear(-Math.PI + bit, 0)).toBeCloseTo(Math.PI, 9);
      expect(turnedNear(Math.PI + bit, 0)).toBeCloseTo(Math.PI, 9);
    }
  });

  it('find the largest margin of all turns', () => {
    const angle = between(-20, 20);
    fc.assert(
      fc.property(fc.tuple(angle, angle, angle, angle, angle, angle), (values) => {
        const best = turnedIntoLimits(SKEWED, values);
        values.forEach((value, i) => {
          const [low, high] = SKEWED.limits[i]!;
          const margin = (at: number) => Math.min(at - low, high - at);
          for (let turns = -8; turns <= 8; turns += 1)
            expect(margin(best[i]!)).toBeGreaterThanOrEqual(margin(value + turns * TURN) - 1e-8);
        });
      }),
      { seed: 8 },
    );
  });
});

describe('limits', () => {
  it('give the margin of the joint nearest to one', () => {
    expect(limitMargin(SET_1, joints(0, 190, 0, -195, 0, 0))).toBeCloseTo(radians(5), 8);
    expect(limitMargin(SET_1, joints(0, 190, 0, -203, 0, 0))).toBeCloseTo(radians(-3), 8);
  });

  it('name the joint furthest past one, and none when all are inside', () => {
    expect(limitMiss(SET_1, joints(0, 190, 0, -195, 0, 0))).toBeUndefined();
    const miss = limitMiss(SET_1, joints(0, 201, 0, -203, 0, 202));
    expect(miss?.joint).toBe(4);
    expect(miss?.degrees).toBeCloseTo(3, 7);
    expect(miss?.value).toBeCloseTo(-203, 9);
    expect(miss?.limit).toBeCloseTo(-200, 9);
  });

  it('name the lower joint of two that are equally far past', () => {
    expect(limitMiss(SET_1, joints(0, 203, 0, -203, 0, 0))?.joint).toBe(2);
  });
});
