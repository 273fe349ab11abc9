import { describe, expect, it } from 'vitest';
import { IDENTITY } from '../../src/geometry/pose.js';
import type { Arm } from '../../src/kinematics/arm.js';
import { forward } from '../../src/kinematics/forward.js';
import { stationFindings } from '../../src/rules/stated-reach.js';
import { testCell } from '../support/cell.js';

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

describe('the joints stated for a coupled arm', () => {
  const { arm: plain } = testCell().handlers[0]!;
  // Joint 3 at -10 and joint 2 at -35: the elbow at -10 + 90 + 35 = 115 degrees.
  const joints = [0, -35, -10, 0, 100, 0];
  const withElbow = (low: number, high: number): Arm => ({
    ...plain,
    coupled: true,
    elbow: [radians(low), radians(high)],
  });
  const found = (arm: Arm) => {
    const flange = forward(arm, joints.map(radians) as unknown as Parameters<typeof forward>[1]);
    return stationFindings(
      'reach',
      { id: 'handler', base: IDENTITY, arm },
      { where: 'here', joints, flange },
    );
  };

  it('are allowed up to the last of the range of its elbow', () => {
    expect(found(withElbow(-40, 115))).toEqual([]);
    expect(found(withElbow(115, 170))).toEqual([]);
  });

  it('are refused beyond it, with angle and limit', () => {
    const [finding, ...others] = found(withElbow(-40, 110));
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ rule: 'reach', where: 'here' });
    expect(finding!.message).toBe('the elbow of handler stands at 115 degrees; its limit is 110');
    expect(finding!.value).toBeCloseTo(115, 6);
    expect(finding!.limit).toBeCloseTo(110, 6);
    expect(found(withElbow(120, 170))[0]!.message).toBe(
      'the elbow of handler stands at 115 degrees; its limit is 120',
    );
  });
});
