import type { Vec3 } from './vector.js';
import { add, scale } from './vector.js';

/** A rotation as a row-major 3 x 3 matrix: columns are the turned axes. */
export type Rotation = readonly [number, number, number, number, number, number, number, number, number];

/** Where a frame is and how it is turned, in its parent frame. Position in millimetres. */
export interface Pose {
  readonly at: Vec3;
  readonly turn: Rotation;
}

export const NO_TURN: Rotation = [1, 0, 0, 0, 1, 0, 0, 0, 1];
export const IDENTITY: Pose = { at: [0, 0, 0], turn: NO_TURN };

export const rotate = (r: Rotation, v: Vec3): Vec3 => [
  r[0] * v[0] + r[1] * v[1] + r[2] * v[2],
  r[3] * v[0] + r[4] * v[1] + r[5] * v[2],
  r[6] * v[0] + r[7] * v[1] + r[8] * v[2],
];

export const transpose = (r: Rotation): Rotation => [r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]];

/** Written out, since every inverse of an arm asks for it several times. */
export const multiply = (a: Rotation, b: Rotation): Rotation => [
  a[0] * b[0] + a[1] * b[3] + a[2] * b[6],
  a[0] * b[1] + a[1] * b[4] + a[2] * b[7],
  a[0] * b[2] + a[1] * b[5] + a[2] * b[8],
  a[3] * b[0] + a[4] * b[3] + a[5] * b[6],
  a[3] * b[1] + a[4] * b[4] + a[5] * b[7],
  a[3] * b[2] + a[4] * b[5] + a[5] * b[8],
  a[6] * b[0] + a[7] * b[3] + a[8] * b[6],
  a[6] * b[1] + a[7] * b[4] + a[8] * b[7],
  a[6] * b[2] + a[7] * b[5] + a[8] * b[8],
];

/** `outer` after `inner`: the pose of inner's frame in outer's parent. */
export const compose = (outer: Pose, inner: Pose): Pose => ({
  at: add(outer.at, rotate(outer.turn, inner.at)),
  turn: multiply(outer.turn, inner.turn),
});

export function inverse(pose: Pose): Pose {
  const turn = transpose(pose.turn);
  return { at: scale(rotate(turn, pose.at), -1), turn };
}

/** A point given in the pose's own frame, in its parent frame. */
export const place = (pose: Pose, point: Vec3): Vec3 => add(pose.at, rotate(pose.turn, point));

export const translate = (pose: Pose, by: Vec3): Pose => ({ at: add(pose.at, by), turn: pose.turn });

/** Rotation by `angle` radians about the unit vector `axis` (Rodrigues). */
export function turnAbout({ 0: x, 1: y, 2: z }: Vec3, angle: number): Rotation {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const t = 1 - c;
  return [
    t * x * x + c,
    t * x * y - s * z,
    t * x * z + s * y,
    t * x * y + s * z,
    t * y * y + c,
    t * y * z - s * x,
    t * x * z - s * y,
    t * y * z + s * x,
    t * z * z + c,
  ];
}

/** Sine and cosine of degrees, exact at multiples of 90 so that square parts stay square. */
function sinCos(degrees: number): readonly [number, number] {
  const quarter = (((degrees % 360) + 360) % 360) / 90;
  if (Number.isInteger(quarter))
    return (
      [
        [0, 1],
        [1, 0],
        [0, -1],
        [-1, 0],
      ] as const
    )[quarter as 0 | 1 | 2 | 3];
  const radians = (degrees * Math.PI) / 180;
  return [Math.sin(radians), Math.cos(radians)];
}

/** Rotation from fixed-axis roll, pitch, yaw in degrees: Rz(yaw) Ry(pitch) Rx(roll). */
export function fromRollPitchYaw(roll: number, pitch: number, yaw: number): Rotation {
  const [sr, cr] = sinCos(roll);
  const [sp, cp] = sinCos(pitch);
  const [sy, cy] = sinCos(yaw);
  return [
    cy * cp,
    cy * sp * sr - sy * cr,
    cy * sp * cr + sy * sr,
    sy * cp,
    sy * sp * sr + cy * cr,
    sy * sp * cr - cy * sr,
    -sp,
    cp * sr,
    cp * cr,
  ];
}

/** Rotation whose columns are the given right-handed orthonormal axes. */
export const fromAxes = (x: Vec3, y: Vec3, z: Vec3): Rotation => [
  x[0],
  y[0],
  z[0],
  x[1],
  y[1],
  z[1],
  x[2],
  y[2],
  z[2],
];

export const axisX = (r: Rotation): Vec3 => [r[0], r[3], r[6]];
export const axisY = (r: Rotation): Vec3 => [r[1], r[4], r[7]];
export const axisZ = (r: Rotation): Vec3 => [r[2], r[5], r[8]];

/** Fixed-axis roll, pitch, yaw in degrees of a rotation; at pitch +-90 the yaw carries the whole turn. */
export function toRollPitchYaw(r: Rotation): readonly [number, number, number] {
  const degrees = 180 / Math.PI;
  const level = Math.hypot(r[0], r[3]);
  const pitch = Math.atan2(-r[6], level) * degrees;
  if (level < 1e-9) return [0, pitch, Math.atan2(-r[1], r[4]) * degrees];
  return [Math.atan2(r[7], r[8]) * degrees, pitch, Math.atan2(r[3], r[0]) * degrees];
}
