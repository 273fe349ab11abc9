import { fromRollPitchYaw, multiply, transpose, type Pose } from '../geometry/pose.js';
import { distance, dot, length, scale, type Vec3 } from '../geometry/vector.js';
import { sixOf, toDegrees, type Joints } from '../kinematics/arm.js';
import { axisAngle } from '../kinematics/straight-path.js';
import type { GripPlace } from '../model/placement.js';
import type { PlanGrip, PlanPose } from '../model/plan.js';

/** Stated poses may differ from what they should be by rounding only: mm and degrees. */
export const POSE_TOLERANCE = { mm: 0.05, degrees: 0.02 } as const;

const toRadians = (degrees: number): number => (degrees * Math.PI) / 180;

/** A pose of the plan (degrees) as geometry uses it. */
export const poseOf = ({ at, turn }: PlanPose): Pose => ({ at, turn: fromRollPitchYaw(...turn) });

/** Joint angles of the plan (degrees) in radians. */
export const jointsOf = (degrees: readonly number[]): Joints => sixOf((i) => toRadians(degrees[i]!));

/** A grip of the plan (turn in degrees) as geometry uses it. */
export const gripPlaceOf = ({ face, position, turn, group }: PlanGrip): GripPlace => ({
  face,
  position,
  turn: toRadians(turn),
  ...(group === undefined ? {} : { group }),
});

/** How far two poses are apart: mm between their origins, degrees between their axes. */
export interface PoseMiss {
  readonly mm: number;
  readonly degrees: number;
}

export const poseMiss = (a: Pose, b: Pose): PoseMiss => ({
  mm: distance(a.at, b.at),
  degrees: toDegrees(axisAngle(multiply(transpose(a.turn), b.turn)).angle),
});

export const within = (miss: PoseMiss, tolerance: PoseMiss): boolean =>
  miss.mm <= tolerance.mm && miss.degrees <= tolerance.degrees;

/** A vector brought to unit length; undefined for one too short to have a direction. */
export function direction(vector: Vec3): Vec3 | undefined {
  const size = length(vector);
  return size > 1e-9 ? scale(vector, 1 / size) : undefined;
}

/** Angle in degrees between two unit vectors. */
export const angleBetween = (a: Vec3, b: Vec3): number =>
  toDegrees(Math.acos(Math.min(1, Math.max(-1, dot(a, b)))));
