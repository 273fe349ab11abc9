import { hypotenuse } from '../base/hypotenuse.js';

/** Six values, one for each joint from the base to the flange. */
export type Six<T> = readonly [T, T, T, T, T, T];

/** Joint values as the robot shows them, in radians. */
export type Joints = Six<number>;

/** Room for six numbers that are worked out over and over. */
export type SixRow = [number, number, number, number, number, number];

/** Number of a joint as people count them, 1 at the base. */
export type JointNumber = 1 | 2 | 3 | 4 | 5 | 6;

/**
 * A six-axis arm with an ortho-parallel base (axis 1 upright, axes 2 and 3 level and parallel) and a spherical
 * wrist (axes 4, 5 and 6 meet in the wrist centre). Seven lengths describe its shape, after Brandstötter,
 * Angerer and Hofbaur, "An analytical solution of the inverse kinematics problem of industrial serial
 * manipulators with an ortho-parallel basis and a spherical wrist" (2014).
 *
 * Seen with all shape angles at zero, when the arm points straight up, x forward:
 * - `a1` forward from axis 1 to axis 2, `b` sideways (+y) from axis 1 to the plane of the arm, `c1` up to axis 2;
 * - `c2` up from axis 2 to axis 3;
 * - `a2` forward and `c3` up from axis 3 to the wrist centre;
 * - `c4` up from the wrist centre to the flange.
 *
 * Shape angle 3 is always the angle of the forearm against the upper arm. In most arms joint 3 turns that angle. In a
 * coupled arm (joint 3 driven through a parallelogram or from the column) joint 2 alone swings the upper arm and
 * leaves the forearm's direction as it is; joint 3 then turns the forearm against the column:
 *
 * - plain: `t3 = sign3 * q3 - offset3`;
 * - coupled: `t3 = sign3 * q3 - offset3 - t2`, with `t2 = sign2 * q2 - offset2`.
 */
export interface Arm {
  /** Lengths in mm. `c2` is positive, and so is `c3` or the size of `a2`. */
  readonly a1: number;
  readonly a2: number;
  readonly b: number;
  readonly c1: number;
  readonly c2: number;
  readonly c3: number;
  readonly c4: number;
  /** Radians; shape angle = sign * joint value - offset (and less shape angle 2 for joint 3 of a coupled arm). */
  readonly offsets: Six<number>;
  /** +1 or -1 for each joint: which way it counts. */
  readonly signs: Six<1 | -1>;
  /** Lowest and highest joint value, radians; may span more than one turn. */
  readonly limits: Six<readonly [low: number, high: number]>;
  /** Highest joint speeds, rad/s, positive. */
  readonly speeds: Six<number>;
  /** Highest joint accelerations, rad/s2, positive. */
  readonly accelerations: Six<number>;
  /** Whether joint 3 turns the forearm against the column; absent: against the upper arm. */
  readonly coupled?: boolean | undefined;
  /**
   * Lowest and highest shape angle 3 of a coupled arm, radians, at most one turn apart; whole turns do not count.
   * Undefined: the limits of joint 3 are all there is.
   */
  readonly elbow?: readonly [low: number, high: number] | undefined;
}

/** What of an arm says where its links are: all that forward kinematics asks for. */
export type ArmShape = Omit<Arm, 'limits' | 'speeds' | 'accelerations' | 'elbow'>;

/** Six values made one joint at a time; `make` is given the place 0 to 5. */
export const sixOf = <T>(make: (place: number) => T): Six<T> => [
  make(0),
  make(1),
  make(2),
  make(3),
  make(4),
  make(5),
];

/** One shape angle (radians) of joint values: `sign * value - offset`, and for joint 3 of a coupled arm as above; its place is 0 to 5. */
export function shapeAngle({ signs, offsets, coupled }: ArmShape, joints: Joints, place: number): number {
  const angle = signs[place]! * joints[place]! - offsets[place]!;
  return place === 2 && coupled === true ? angle - (signs[1] * joints[1] - offsets[1]) : angle;
}

/** All six. */
export const shapeAngles = (arm: ArmShape, joints: Joints): Six<number> =>
  sixOf((place) => shapeAngle(arm, joints, place));

/** One joint value (radians) of shape angles, the inverse of `shapeAngle`, not yet brought into the limits; its place is 0 to 5. */
export function jointValue({ signs, offsets, coupled }: Arm, angles: Six<number>, place: number): number {
  const angle = place === 2 && coupled === true ? angles[2] + angles[1] : angles[place]!;
  return signs[place]! * (angle + offsets[place]!);
}

/** Length in mm from axis 3 to the wrist centre. */
export const forearmLength = (arm: Arm): number => hypotenuse(arm.a2, arm.c3);

export const toDegrees = (radians: number): number => (radians * 180) / Math.PI;
