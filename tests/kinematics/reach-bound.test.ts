import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sixOf } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { isBeyond } from '../../src/kinematics/reach-bound.js';
import { wristCentre } from '../../src/kinematics/wrist-centre.js';
import { SET_1, SET_2, SET_3, SET_4, SKEWED } from './published-arms.js';

const angle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });

describe('isBeyond', () => {
  it.each([SET_1, SET_2, SET_3, SET_4, SKEWED])(
    'never speaks of a place that the wrist centre takes',
    (arm) => {
      fc.assert(
        fc.property(fc.tuple(angle, angle, angle, angle, angle, angle), (angles) => {
          expect(
            isBeyond(
              arm,
              wristCentre(
                arm,
                forward(
                  arm,
                  sixOf((i) => angles[i]!),
                ),
              ),
              0,
            ),
          ).toBe(false);
        }),
      );
    },
  );

  it('is exact ahead of an arm without sideways offset', () => {
    // 100 ahead to axis 2, then 705 and hypot(135, 755) in one line.
    const most = 100 + 705 + Math.hypot(135, 755);
    expect(isBeyond(SET_1, [most - 0.001, 0, 615], 0)).toBe(false);
    expect(isBeyond(SET_1, [most + 0.001, 0, 615], 0)).toBe(true);
    expect(isBeyond(SET_1, [most + 20, 0, 615], 19.999)).toBe(true);
    expect(isBeyond(SET_1, [most + 20, 0, 615], 20.001)).toBe(false);
  });
});
