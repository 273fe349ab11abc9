import type { Pose } from '../geometry/pose.js';
import { axisZ, multiply, rotate } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { add, along } from '../geometry/vector.js';
import type { ArmShape, Joints } from './arm.js';
import { shapeAngles } from './arm.js';
import { turnY, turnZ } from './axis-turns.js';

/** Where the bends of an arm are, in its base frame, mm: the ends of the capsules that stand for its links. */
export interface LinkPoints {
  /** Where axis 2 crosses the plane of the arm. */
  readonly shoulder: Vec3;
  /** Where axis 3 crosses the plane of the arm. */
  readonly elbow: Vec3;
  /** Where axes 4, 5 and 6 meet. */
  readonly wrist: Vec3;
  readonly flange: Vec3;
}

export interface Posture {
  readonly points: LinkPoints;
  /** Of the flange. */
  readonly turn: Pose['turn'];
}

/**
 * Walks the chain Rz(t1) (a1, b, c1), Ry(t2) (0, 0, c2), Ry(t3) (a2, 0, c3), Rz(t4) Ry(t5) Rz(t6) (0, 0, c4)
 * of Brandstötter, Angerer and Hofbaur (2014); t are the shape angles.
 */
export function posture(arm: ArmShape, joints: Joints): Posture {
  const [t1, t2, t3, t4, t5, t6] = shapeAngles(arm, joints);
  const column = turnZ(t1);
  const upperArm = multiply(column, turnY(t2));
  const forearm = multiply(column, turnY(t2 + t3));
  const turn = multiply(forearm, multiply(turnZ(t4), multiply(turnY(t5), turnZ(t6))));
  const shoulder = rotate(column, [arm.a1, arm.b, arm.c1]);
  const elbow = along(shoulder, axisZ(upperArm), arm.c2);
  const wrist = add(elbow, rotate(forearm, [arm.a2, 0, arm.c3]));
  const flange = along(wrist, axisZ(turn), arm.c4);
  return { points: { shoulder, elbow, wrist, flange }, turn };
}

/** Pose of the flange in the base frame of the arm (mm), its z axis pointing out of the flange. */
export function forward(arm: ArmShape, joints: Joints): Pose {
  const { points, turn } = posture(arm, joints);
  return { at: points.flange, turn };
}

/** Shoulder, elbow, wrist centre and flange in the base frame of the arm, mm. */
export const linkPoints = (arm: ArmShape, joints: Joints): LinkPoints => posture(arm, joints).points;
