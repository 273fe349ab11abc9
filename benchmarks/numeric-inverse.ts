import type { Random } from '../src/base/random.js';
import type { Pose } from '../src/geometry/pose.js';
import { multiply, transpose } from '../src/geometry/pose.js';
import type { Arm, Joints } from '../src/kinematics/arm.js';
import { sixOf } from '../src/kinematics/arm.js';
import { forward } from '../src/kinematics/forward.js';
import { axisAngle } from '../src/kinematics/straight-path.js';

/** Millimetres that count as much as a radian. */
const LEVER = 1000;
/** Error of pose (in levers) below which a solution counts: a micrometre. */
const GOOD = 1e-6;
const DAMPING = { first: 1e-2, least: 1e-9, more: 4, less: 0.25 } as const;
const STARTS = 20;
const ITERATIONS = 60;
const PROBE = 1e-7;

/**
 * One set of joints (radians) that takes a flange pose, by damped least squares (Levenberg 1944, Marquardt 1963) from
 * random starts within the limits, with a Jacobian by differences; undefined when no start leads there. A plain numeric
 * solver to compare with; limits are not kept on the way.
 */
export function numericInverse(arm: Arm, flange: Pose, random: Random): Joints | undefined {
  for (let start = 0; start < STARTS; start += 1) {
    const found = descend(
      arm,
      flange,
      sixOf((i) => arm.limits[i]![0] + random() * (arm.limits[i]![1] - arm.limits[i]![0])),
    );
    if (found) return found;
  }
  return undefined;
}

function descend(arm: Arm, flange: Pose, start: Joints): Joints | undefined {
  let joints = start;
  let error = errorOf(arm, flange, joints);
  let damping: number = DAMPING.first;
  for (let i = 0; i < ITERATIONS; i += 1) {
    if (norm(error) < GOOD) return joints;
    const columns = joints.map((_, j) => {
      const probed = errorOf(
        arm,
        flange,
        sixOf((k) => joints[k]! + (k === j ? PROBE : 0)),
      );
      return probed.map((value, k) => (value - error[k]!) / PROBE);
    });
    const step = dampedStep(columns, error, damping);
    const next = sixOf((k) => joints[k]! + step[k]!);
    const left = errorOf(arm, flange, next);
    if (norm(left) < norm(error)) {
      [joints, error] = [next, left];
      damping = Math.max(DAMPING.least, damping * DAMPING.less);
    } else damping *= DAMPING.more;
  }
  return norm(error) < GOOD ? joints : undefined;
}

const norm = (vector: readonly number[]): number => Math.hypot(...vector);

/** What is left to the pose: place in levers, turn as a rotation vector in the frame of the flange. */
function errorOf(arm: Arm, flange: Pose, joints: Joints): readonly number[] {
  const { at, turn } = forward(arm, joints);
  const { axis, angle } = axisAngle(multiply(transpose(turn), flange.turn));
  return [...at.map((value, i) => (flange.at[i]! - value) / LEVER), ...axis.map((value) => value * angle)];
}

/** Solves (J'J + d I) step = -J'e by elimination; the matrix is positive definite, so no pivoting is needed. */
function dampedStep(
  columns: readonly (readonly number[])[],
  error: readonly number[],
  damping: number,
): readonly number[] {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, i) => sum + value * b[i]!, 0);
  const rows = columns.map((column, i) => [
    ...columns.map((other, j) => dot(column, other) + (i === j ? damping : 0)),
    -dot(column, error),
  ]);
  for (let i = 0; i < 6; i += 1)
    for (let k = i + 1; k < 6; k += 1) {
      const factor = rows[k]![i]! / rows[i]![i]!;
      for (let j = i; j < 7; j += 1) rows[k]![j]! -= factor * rows[i]![j]!;
    }
  const step = [0, 0, 0, 0, 0, 0];
  for (let i = 5; i >= 0; i -= 1) {
    const known = rows[i]!.slice(i + 1, 6).reduce((sum, value, j) => sum + value * step[i + 1 + j]!, 0);
    step[i] = (rows[i]![6]! - known) / rows[i]![i]!;
  }
  return step;
}
