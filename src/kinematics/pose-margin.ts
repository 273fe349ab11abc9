import { snap } from '../base/order.js';
import type { Arm, Joints } from './arm.js';
import { ANGLE_GRAIN, limitMargin, wristSine } from './limits.js';

/** Margins that are ranked are snapped to a tenth of a degree: less decides nothing. Radians. */
export const MARGIN_GRAIN = Math.PI / 1800;

/**
 * How far joint values (radians, as they are) are from what forbids them: the least distance of a joint to a limit
 * and of the wrist to the bend it needs (`wristMargin` as |sin t5|). Radians, negative where forbidden.
 */
export function poseMargin(arm: Arm, joints: Joints, wristMargin: number): number {
  const bend = Math.asin(Math.min(1, wristSine(arm, joints))) - Math.asin(Math.min(1, wristMargin));
  return snap(Math.min(limitMargin(arm, joints), bend), ANGLE_GRAIN);
}
