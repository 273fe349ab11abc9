import type { Pose, Rotation } from '../geometry/pose.js';
import { multiply, transpose, turnAbout } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import { along, length, scale, subtract } from '../geometry/vector.js';

/** A straight way between two poses, turning evenly about one fixed axis. */
export interface StraightPath {
  /** Millimetres. */
  readonly length: number;
  /** Radians, 0 to pi. */
  readonly turned: number;
  /** The pose at a fraction of the way, 0 to 1. */
  readonly at: (fraction: number) => Pose;
}

/** Turns (radians) smaller than this are taken as none. */
const TURN_GRAIN = 1e-9;

/** The straight way between two poses; of two equally short ways to turn by half a turn, always the same. */
export function straightPath(from: Pose, to: Pose): StraightPath {
  const way = subtract(to.at, from.at);
  const { axis, angle } = axisAngle(multiply(transpose(from.turn), to.turn));
  const turned = angle < TURN_GRAIN ? 0 : angle;
  const at = (fraction: number): Pose => ({
    at: along(from.at, way, fraction),
    turn: turned === 0 ? from.turn : multiply(from.turn, turnAbout(axis, turned * fraction)),
  });
  return { length: length(way), turned, at };
}

/**
 * Unit axis and angle (0 to pi) of a rotation. The rows below are the unit quaternion (w, x, y, z), each times four
 * of its own entries; the one with the largest diagonal is far from zero for every rotation (Shepperd, 1978).
 */
export function axisAngle(r: Rotation): { readonly axis: Vec3; readonly angle: number } {
  const [x, y, z] = [r[7] - r[5], r[2] - r[6], r[3] - r[1]];
  const [xy, xz, yz] = [r[1] + r[3], r[2] + r[6], r[5] + r[7]];
  const rows = [
    [1 + r[0] + r[4] + r[8], x, y, z],
    [x, 1 + r[0] - r[4] - r[8], xy, xz],
    [y, xy, 1 - r[0] + r[4] - r[8], yz],
    [z, xz, yz, 1 - r[0] - r[4] + r[8]],
  ] as const;
  const row = rows.reduce((best, next, i) => (next[i]! > best[rows.indexOf(best)]! ? next : best));
  const vector: Vec3 = row[0] < 0 ? [-row[1], -row[2], -row[3]] : [row[1], row[2], row[3]];
  const size = length(vector);
  if (size === 0) return { axis: [0, 0, 1], angle: 0 };
  return { axis: scale(vector, 1 / size), angle: 2 * Math.atan2(size, Math.abs(row[0])) };
}
