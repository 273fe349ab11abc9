import { Matrix4, Vector3 } from 'three';
import type { Pose } from '../../../geometry/pose.js';
import type { Vec3 } from '../../../geometry/vector.js';

const set = ({ at: [x, y, z], turn: r }: Pose): Matrix4 =>
  new Matrix4().set(r[0], r[1], r[2], x, r[3], r[4], r[5], y, r[6], r[7], r[8], z, 0, 0, 0, 1);

/** A pose as three wants it, first stretched along its own axes. */
export const matrixOf = (pose: Pose, stretch: Vec3 = [1, 1, 1]): Matrix4 =>
  set(pose).scale(new Vector3(...stretch));
