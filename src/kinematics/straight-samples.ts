import type { Pose } from '../geometry/pose.js';
import type { Arm, Joints, SixRow } from './arm.js';
import { forward } from './forward.js';
import { eachBranch, putBranch } from './inverse.js';
import { turnedNear, turnedNearJoints } from './limits.js';
import { straightPath } from './straight-path.js';

/** Intervals of a straight way that are looked at: at most this many mm each, and at least and at most this many. */
const INTERVAL = { mm: 10, fewest: 8, most: 200 } as const;

/** Share of an interval that a last bit may add to a length. */
const GRAIN = 1e-6;

/** Room for the joints of the place that is looked at. */
const SOLVED: SixRow = [0, 0, 0, 0, 0, 0];

/** Into how many even intervals a straight way of this length (mm) is cut. */
const intervalsOf = (length: number): number =>
  Math.min(INTERVAL.most, Math.max(INTERVAL.fewest, Math.ceil(length / INTERVAL.mm - GRAIN)));

/**
 * Joints (radians) at even fractions of the straight way of the flange from one set of joints to another, both ends
 * included, in the branch of the first and running on continuously. Limits are not asked for: this serves to time a
 * way that `followStraight` has taken. Only the first and the last where the way leaves the reach of the branch.
 */
export function straightSamples(arm: Arm, from: Joints, to: Joints): readonly Joints[] {
  const [start, end] = [forward(arm, from), forward(arm, to)];
  const path = straightPath(start, end);
  const count = intervalsOf(path.length);
  const branch = nearestBranch(arm, from, start);
  const samples: Joints[] = [from];
  for (let i = 1; i <= count; i += 1) {
    if (!putBranch(arm, path.at(i / count), branch, SOLVED)) return [from, to];
    samples.push(turnedNearJoints(SOLVED, samples[i - 1]!));
  }
  return samples;
}

/** The branch that the arm is in; the lowest where branches meet. */
function nearestBranch(arm: Arm, joints: Joints, flange: Pose): number {
  let nearest = 0;
  let least = Infinity;
  eachBranch(arm, flange, (index, found) => {
    let off = 0;
    for (let i = 0; i < 6; i += 1)
      off = Math.max(off, Math.abs(turnedNear(found[i]!, joints[i]!) - joints[i]!));
    if (off >= least - 1e-9) return;
    nearest = index;
    least = off;
  });
  return nearest;
}
