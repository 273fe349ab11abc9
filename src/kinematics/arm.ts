/** Six values, one for each joint from the base to the flange. */
export type Six<T> = readonly [T, T, T, T, T, T];

/** Joint values as the robot shows them, in radians. */
export type Joints = Six<number>;

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
  /** Radians; shape angle = sign * joint value - offset. */
  readonly offsets: Six<number>;
  /** +1 or -1 for each joint: which way it counts. */
  readonly signs: Six<1 | -1>;
  /** Lowest and highest joint value, radians; may span more than one turn. */
  readonly limits: Six<readonly [low: number, high: number]>;
  /** Highest joint speeds, rad/s, positive. */
  readonly speeds: Six<number>;
  /** Highest joint accelerations, rad/s2, positive. */
  readonly accelerations: Six<number>;
}

/** Six values made one joint at a time; `make` is given the place 0 to 5. */
export const sixOf = <T>(make: (place: number) => T): Six<T> => [
  make(0),
  make(1),
  make(2),
  make(3),
  make(4),
  make(5),
];

/** Shape angles (radians) of joint values: `sign * value - offset`. */
export const shapeAngles = (arm: Arm, joints: Joints): Six<number> =>
  sixOf((i) => arm.signs[i]! * joints[i]! - arm.offsets[i]!);

/** Joint values (radians) of shape angles: `sign * (angle + offset)`, not yet brought into the limits. */
export const jointValues = (arm: Arm, angles: Six<number>): Joints =>
  sixOf((i) => arm.signs[i]! * (angles[i]! + arm.offsets[i]!));

/** Length in mm from axis 3 to the wrist centre. */
export const forearmLength = (arm: Arm): number => Math.hypot(arm.a2, arm.c3);

export const toDegrees = (radians: number): number => (radians * 180) / Math.PI;
