import type { Pose, Rotation } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { ArmShape, Joints } from './arm.js';

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
  readonly turn: Rotation;
}

/** How many numbers a posture has in a row: shoulder, elbow, wrist and flange, then the turn of the flange row by row. */
export const POSTURE_ROW = 21;

/**
 * Walks the chain Rz(t1) (a1, b, c1), Ry(t2) (0, 0, c2), Ry(t3) (a2, 0, c3), Rz(t4) Ry(t5) Rz(t6) (0, 0, c4)
 * of Brandstötter, Angerer and Hofbaur (2014); t are the shape angles. Puts the posture in a row of POSTURE_ROW numbers;
 * written out, since an arm on its way is looked at in some hundred thousand postures.
 */
export function postureRow(arm: ArmShape, joints: ArrayLike<number>, row: Float64Array): void {
  const { signs, offsets } = arm;
  const t1 = signs[0] * joints[0]! - offsets[0];
  const t2 = signs[1] * joints[1]! - offsets[1];
  const own3 = signs[2] * joints[2]! - offsets[2];
  const t23 = t2 + (arm.coupled === true ? own3 - t2 : own3);
  const t4 = signs[3] * joints[3]! - offsets[3];
  const t5 = signs[4] * joints[4]! - offsets[4];
  const t6 = signs[5] * joints[5]! - offsets[5];
  const c1 = Math.cos(t1);
  const s1 = Math.sin(t1);
  const s2 = Math.sin(t2);
  const c23 = Math.cos(t23);
  const s23 = Math.sin(t23);
  row[0] = c1 * arm.a1 - s1 * arm.b;
  row[1] = s1 * arm.a1 + c1 * arm.b;
  row[2] = arm.c1;
  row[3] = row[0] + c1 * s2 * arm.c2;
  row[4] = row[1] + s1 * s2 * arm.c2;
  row[5] = row[2] + Math.cos(t2) * arm.c2;
  row[6] = row[3] + (c1 * c23 * arm.a2 + c1 * s23 * arm.c3);
  row[7] = row[4] + (s1 * c23 * arm.a2 + s1 * s23 * arm.c3);
  row[8] = row[5] + (c23 * arm.c3 - s23 * arm.a2);
  // The wrist against the forearm, Rz(t4) Ry(t5) Rz(t6), column by column.
  const c4 = Math.cos(t4);
  const s4 = Math.sin(t4);
  const c5 = Math.cos(t5);
  const s5 = Math.sin(t5);
  const c6 = Math.cos(t6);
  const s6 = Math.sin(t6);
  turnedColumn(row, 12, c1, s1, c23, s23, c4 * (c5 * c6) - s4 * s6, s4 * (c5 * c6) + c4 * s6, -s5 * c6);
  turnedColumn(row, 13, c1, s1, c23, s23, -c4 * (c5 * s6) - s4 * c6, c4 * c6 - s4 * (c5 * s6), s5 * s6);
  turnedColumn(row, 14, c1, s1, c23, s23, c4 * s5, s4 * s5, c5);
  row[9] = row[6] + row[14]! * arm.c4;
  row[10] = row[7] + row[17]! * arm.c4;
  row[11] = row[8] + row[20]! * arm.c4;
}

/** Puts a direction of the forearm's frame, turned Rz(t1) Ry(t2 + t3) into the base frame, in a column of a matrix. */
function turnedColumn(
  row: Float64Array,
  at: number,
  c1: number,
  s1: number,
  c23: number,
  s23: number,
  x: number,
  y: number,
  z: number,
): void {
  row[at] = c1 * c23 * x - s1 * y + c1 * s23 * z;
  row[at + 3] = s1 * c23 * x + c1 * y + s1 * s23 * z;
  row[at + 6] = c23 * z - s23 * x;
}

/** The bends of an arm and the turn of its flange, in its base frame. */
export function posture(arm: ArmShape, joints: Joints): Posture {
  const row = new Float64Array(POSTURE_ROW);
  postureRow(arm, joints, row);
  const point = (at: number): Vec3 => [row[at]!, row[at + 1]!, row[at + 2]!];
  const points = { shoulder: point(0), elbow: point(3), wrist: point(6), flange: point(9) };
  return {
    points,
    turn: [row[12]!, row[13]!, row[14]!, row[15]!, row[16]!, row[17]!, row[18]!, row[19]!, row[20]!],
  };
}

/** Pose of the flange in the base frame of the arm (mm), its z axis pointing out of the flange. */
export function forward(arm: ArmShape, joints: Joints): Pose {
  const { points, turn } = posture(arm, joints);
  return { at: points.flange, turn };
}

/** Shoulder, elbow, wrist centre and flange in the base frame of the arm, mm. */
export const linkPoints = (arm: ArmShape, joints: Joints): LinkPoints => posture(arm, joints).points;
