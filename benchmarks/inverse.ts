import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { seededRandom } from '../src/base/random.js';
import type { Pose } from '../src/geometry/pose.js';
import { distance } from '../src/geometry/vector.js';
import { readCell } from '../src/io/read-cell.js';
import { sixOf } from '../src/kinematics/arm.js';
import { forward } from '../src/kinematics/forward.js';
import { inverseBranches } from '../src/kinematics/inverse.js';
import { numericInverse } from './numeric-inverse.js';
import { median, row, seconds } from './printing.js';

const CELL = join(import.meta.dirname, '..', 'examples', 'cells', 'twin-bench.cell.yaml');

/** Inverse solutions of an arm at poses that it can take: the closed form beside a plain numeric solver. */
export function inverseSolutions({
  poses,
  repeats,
}: {
  readonly poses: number;
  readonly repeats: number;
}): void {
  const { arm } = readCell(readFileSync(CELL, 'utf8'), CELL).value!.handlers[0]!;
  const random = seededRandom(1);
  const taken = (): Pose =>
    forward(
      arm,
      sixOf((i) => arm.limits[i]![0] + random() * (arm.limits[i]![1] - arm.limits[i]![0])),
    );
  const targets = Array.from({ length: poses }, taken);
  const reaches = (target: Pose, joints: Parameters<typeof forward>[1]): boolean =>
    distance(forward(arm, joints).at, target.at) < 2e-3;

  const closed: number[] = [];
  const numeric: number[] = [];
  let [solutions, solved, found] = [0, 0, 0];
  for (let run = 0; run < repeats + 1; run += 1) {
    const branches: ReturnType<typeof inverseBranches>[] = [];
    const time = seconds(() => targets.forEach((target) => branches.push(inverseBranches(arm, target))));
    const starts = seededRandom(2);
    const answers: ReturnType<typeof numericInverse>[] = [];
    const slow = seconds(() =>
      targets.forEach((target) => answers.push(numericInverse(arm, target, starts))),
    );
    // The first run only warms up.
    if (run === 0) continue;
    closed.push(time);
    numeric.push(slow);
    solutions = branches.flat().length;
    solved = branches.filter(
      (all, i) => all.length > 0 && all.every(({ joints }) => reaches(targets[i]!, joints)),
    ).length;
    found = answers.filter((joints, i) => joints !== undefined && reaches(targets[i]!, joints)).length;
  }
  const rate = (solutions / median(closed)).toFixed(0);
  row(
    `inverse, ${poses} poses, closed form, every branch`,
    closed,
    `${rate} solutions/s, ${solutions} for ${solved} of ${poses} poses`,
  );
  const ratio = (median(numeric) / median(closed)).toFixed(0);
  row(
    '  one solution each by damped least squares',
    numeric,
    `${ratio} x the time, ${found} of ${poses} poses`,
  );
}
