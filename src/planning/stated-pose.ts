import { rounded } from '../base/order.js';
import { toRollPitchYaw, type Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { PlanPose } from '../model/plan.js';

/** A point as a plan states it: mm to 1e-4. */
export const statedPoint = (v: Vec3): [number, number, number] => [
  rounded(v[0], 4),
  rounded(v[1], 4),
  rounded(v[2], 4),
];

/** A pose as a plan states it: mm to 1e-4, degrees to 1e-5. */
export function statedPose({ at, turn }: Pose): PlanPose {
  const [roll, pitch, yaw] = toRollPitchYaw(turn);
  return { at: statedPoint(at), turn: [rounded(roll, 5), rounded(pitch, 5), rounded(yaw, 5)] };
}
