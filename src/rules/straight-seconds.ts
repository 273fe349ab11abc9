import { forward } from '../kinematics/forward.js';
import { inverseBranches } from '../kinematics/inverse.js';
import { turnedNearJoints } from '../kinematics/limits.js';
import { straightPath } from '../kinematics/straight-path.js';
import type { Arm, Joints } from '../kinematics/arm.js';

interface StraightMover {
  readonly arm: Arm;
  readonly straightSpeed: number;
  readonly straightAcceleration: number;
}

/** Samples of a straight move: at most this many mm apart, at least `fewest` and at most `most` intervals. */
const SAMPLING = { mm: 10, fewest: 8, most: 200 } as const;

/**
 * Seconds of a straight move of the flange between two sets of joints by what README says of it: a trapezoid at the
 * straight speed and acceleration, drawn out as a whole until no joint exceeds its own. The whole way takes `cruise`
 * seconds at an even speed. That is bounded by the path, by the speed of each joint, and by half the acceleration of
 * each joint being enough for the bends of its course; the rest of it is left for getting up to speed.
 */
export function straightSeconds(robot: StraightMover, from: Joints, to: Joints): number {
  const { arm, straightSpeed, straightAcceleration } = robot;
  const path = straightPath(forward(arm, from), forward(arm, to));
  const course = courseOf(arm, from, to, path);
  const count = course.length - 1;
  let cruise = path.length / straightSpeed;
  const joints = arm.speeds.map((fastest, j) => {
    let [rate, bend] = [0, 0];
    for (let i = 1; i <= count; i += 1) {
      const step = course[i]![j]! - course[i - 1]![j]!;
      rate = Math.max(rate, Math.abs(step) * count);
      if (i > 1)
        bend = Math.max(bend, Math.abs(step - course[i - 1]![j]! + course[i - 2]![j]!) * count * count);
    }
    const sharpest = arm.accelerations[j]!;
    cruise = Math.max(cruise, rate / fastest, Math.sqrt((2 * bend) / sharpest));
    return { rate, bend, sharpest };
  });
  if (cruise === 0) return 0;
  // Seconds squared: half of it is what an even gain of speed over the whole way would take, squared.
  let gain = path.length / straightAcceleration;
  for (const { rate, bend, sharpest } of joints)
    if (rate > 0) gain = Math.max(gain, rate / (sharpest - bend / (cruise * cruise)));
  const ramp = gain / cruise;
  return ramp <= cruise ? cruise + ramp : 2 * Math.sqrt(gain);
}

/** Joints at even places of the way, each time those of all solutions that are nearest to the last. */
function courseOf(
  arm: Arm,
  from: Joints,
  to: Joints,
  path: ReturnType<typeof straightPath>,
): readonly Joints[] {
  const count = Math.min(
    SAMPLING.most,
    Math.max(SAMPLING.fewest, Math.ceil(path.length / SAMPLING.mm - 1e-6)),
  );
  const course: Joints[] = [from];
  for (let i = 1; i <= count; i += 1) {
    const last = course[i - 1]!;
    const found = inverseBranches(arm, path.at(i / count)).map(({ joints }) =>
      turnedNearJoints(joints, last),
    );
    const off = found.map((joints) => Math.max(...joints.map((value, j) => Math.abs(value - last[j]!))));
    const nearest = found[off.indexOf(Math.min(...off))];
    if (nearest === undefined) return [from, to];
    course.push(nearest);
  }
  return course;
}
