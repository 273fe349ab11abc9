import { compose, fromAxes, place, turnAbout, type Pose } from '../../../src/geometry/pose.js';
import type { Vec3 } from '../../../src/geometry/vector.js';
import { forward } from '../../../src/kinematics/forward.js';
import { sixOf, type Joints } from '../../../src/kinematics/arm.js';
import type { PageData, PagePose, PageRobot, PageStep } from '../../../src/report/page/page-data.js';

/** A pose of the page as the core has it: the axes turned by the quaternion, v + 2 w (q x v) + 2 q x (q x v). */
export function poseOfPage([x, y, z, qx, qy, qz, w]: PagePose): Pose {
  const turned = ([a, b, c]: Vec3): Vec3 => {
    const [u, v, s] = [2 * (qy * c - qz * b), 2 * (qz * a - qx * c), 2 * (qx * b - qy * a)];
    return [a + w * u + qy * s - qz * v, b + w * v + qz * u - qx * s, c + w * s + qx * v - qy * u];
  };
  return { at: [x, y, z], turn: fromAxes(turned([1, 0, 0]), turned([0, 1, 0]), turned([0, 0, 1])) };
}

/** The posture at a share of the time of a step, as the page says that it is passed. */
export function postureAt({ way, at = [] }: PageStep, share: number): Joints {
  const times = way.length === 1 ? [0] : [0, ...at, 1];
  const leg = Math.max(
    0,
    Math.min(
      way.length - 2,
      times.findLastIndex((time) => time <= share),
    ),
  );
  const [from, to] = [way[leg]!, way[leg + 1] ?? way[leg]!];
  const span = (times[leg + 1] ?? 1) - times[leg]!;
  return sixOf((i) => from[i]! + ((to[i]! - from[i]!) * (share - times[leg]!)) / span);
}

/** Where the flange of a robot is in the cell at a posture. */
export const flangeAt = ({ base, arm }: PageRobot, joints: Joints): Pose =>
  compose(poseOfPage(base), forward(arm, joints));

/** The same at a time; of several steps at that time, the last. */
export function flangeAtTime(robot: PageRobot, time: number): Pose {
  const step = robot.steps.findLast(({ start }) => start <= time) ?? robot.steps[0]!;
  const lasts = step.end - step.start;
  const share = lasts === 0 ? 1 : Math.min(1, (time - step.start) / lasts);
  return flangeAt(robot, postureAt(step, share));
}

/** The turn of the table in the cell at a time. */
export function tableAt({ turns }: PageData, time: number): Pose {
  const last = turns.findLast(({ start }) => start <= time);
  if (last === undefined) return { at: [0, 0, 0], turn: turnAbout([0, 0, 1], 0) };
  const share = last.end > last.start ? Math.min(1, (time - last.start) / (last.end - last.start)) : 1;
  const turn = turnAbout([0, 0, 1], last.from + (last.to - last.from) * share);
  const [x, y] = last.axis;
  const [dx, dy] = place({ at: [0, 0, 0], turn }, [x, y, 0]);
  return { at: [x - dx, y - dy, 0], turn };
}
