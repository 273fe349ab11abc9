import { NO_TURN, turnAbout, type Pose, type Rotation } from '../../../geometry/pose.js';
import { dot, subtract, type Vec3 } from '../../../geometry/vector.js';
import type { PagePose, PageTurn } from '../../../report/page/page-data.js';

/** A turn from a unit quaternion. */
const turnOf = (x: number, y: number, z: number, w: number): Rotation => [
  1 - 2 * (y * y + z * z),
  2 * (x * y - z * w),
  2 * (x * z + y * w),
  2 * (x * y + z * w),
  1 - 2 * (x * x + z * z),
  2 * (y * z - x * w),
  2 * (x * z - y * w),
  2 * (y * z + x * w),
  1 - 2 * (x * x + y * y),
];

export const poseOf = ([x, y, z, a, b, c, d]: PagePose): Pose => ({
  at: [x, y, z],
  turn: turnOf(a, b, c, d),
});

/** A turn about an axis through a point, as what it does to everything in the cell. */
export function turnAround(point: Vec3, axis: Vec3, angle: number): Pose {
  const turn = turnAbout(axis, angle);
  const turned: Vec3 = [
    dot([turn[0], turn[1], turn[2]], point),
    dot([turn[3], turn[4], turn[5]], point),
    dot([turn[6], turn[7], turn[8]], point),
  ];
  return { at: subtract(point, turned), turn };
}

/** Angle of the work table, radians. */
export function tableAngle(turns: readonly PageTurn[], time: number): number {
  const last = turns.findLast(({ start }) => start <= time);
  if (!last) return turns[0]?.from ?? 0;
  const share = last.end > last.start ? Math.min(1, (time - last.start) / (last.end - last.start)) : 1;
  return last.from + (last.to - last.from) * share;
}

/** What a turn of the work table by an angle does to what stands on it. */
export function tableTurned(turns: readonly PageTurn[], angle: number): Pose {
  const axis = turns[0]?.axis;
  return axis ? turnAround([axis[0], axis[1], 0], [0, 0, 1], angle) : { at: [0, 0, 0], turn: NO_TURN };
}
