import { expect, it } from 'vitest';
import type { Joints } from '../../src/kinematics/arm.js';
import { poseMargin } from '../../src/kinematics/pose-margin.js';
import { DEFAULT_WRIST_MARGIN } from '../../src/kinematics/reach.js';
import { testCell } from '../support/cell.js';

const DEGREE = Math.PI / 180;
const { arm } = testCell().welders[0]!;
const degrees = (margin: number): number => margin / DEGREE;

/** All joints in the middle of their limits, but for axis 5 and one other. */
const with5 = (fifth: number, sixth = 0): Joints => {
  const middle = arm.limits.map(([low, high]) => (low + high) / 2);
  return [middle[0]!, middle[1]!, middle[2]!, middle[3]!, fifth * DEGREE, arm.limits[5][1] - sixth * DEGREE];
};

it('is the least of the ways to a limit and of the bend of the wrist beyond its two degrees', () => {
  expect(degrees(poseMargin(arm, with5(45, 20), DEFAULT_WRIST_MARGIN))).toBeCloseTo(20, 6);
  expect(degrees(poseMargin(arm, with5(45, -3), DEFAULT_WRIST_MARGIN))).toBeCloseTo(-3, 6);
  expect(degrees(poseMargin(arm, with5(12, 20), DEFAULT_WRIST_MARGIN))).toBeCloseTo(10, 6);
  expect(degrees(poseMargin(arm, with5(-1, 20), DEFAULT_WRIST_MARGIN))).toBeCloseTo(-1, 6);
});
