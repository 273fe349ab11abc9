import { rounded } from '../../../base/order.js';
import type { Pose } from '../../../geometry/pose.js';
import { scale, type Vec3 } from '../../../geometry/vector.js';
import { sixOf, type Joints } from '../../../kinematics/arm.js';
import { axisAngle } from '../../../kinematics/straight-path.js';
import type { PagePose, Point3 } from '../page-data.js';

/** Hundredths of a millimetre. */
export const mm = (value: number): number => rounded(value, 2);

/** Hundredths of a second. */
export const seconds = (value: number): number => rounded(value, 2);

/** Of directions, quaternions and joints: 0.00001 is 0.02 mm at the end of an arm of two metres. */
const fine = (value: number): number => rounded(value, 5);

export const pagePoint = ([x, y, z]: Vec3): Point3 => [mm(x), mm(y), mm(z)];

export const pageDirection = ([x, y, z]: Vec3): Point3 => [fine(x), fine(y), fine(z)];

/** Radians. */
export const pageAngle = fine;

export const pageJoints = (joints: Joints): Joints => sixOf((i) => fine(joints[i]!));

export function pagePose({ at, turn }: Pose): PagePose {
  const { axis, angle } = axisAngle(turn);
  const [x, y, z] = scale(axis, Math.sin(angle / 2));
  return [...pagePoint(at), fine(x), fine(y), fine(z), fine(Math.cos(angle / 2))];
}
