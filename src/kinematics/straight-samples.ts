import type { Arm, Joints } from './arm.js';
import { forward } from './forward.js';
import { inverseBranch, inverseBranches } from './inverse.js';
import { turnedNearJoints } from './limits.js';
import { straightPath } from './straight-path.js';

/** Intervals of a straight way that are looked at: at most this many mm each, and at least and at most this many. */
const INTERVAL = { mm: 10, fewest: 8, most: 200 } as const;

/** Share of an interval that a last bit may add to a length. */
const GRAIN = 1e-6;

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
  const branch = nearestBranch(arm, from);
  const samples: Joints[] = [from];
  for (let i = 1; i <= count; i += 1) {
    const solved = inverseBranch(arm, path.at(i / count), branch);
    if (!solved.ok) return [from, to];
    samples.push(turnedNearJoints(solved.value.joints, samples[i - 1]!));
  }
  return samples;
}

/** The branch that the arm is in; the lowest where branches meet. */
function nearestBranch(arm: Arm, joints: Joints): number {
  let nearest = { index: 0, off: Infinity };
  for (const { index, joints: found } of inverseBranches(arm, forward(arm, joints))) {
    const turned = turnedNearJoints(found, joints);
    const off = Math.max(...turned.map((value, i) => Math.abs(value - joints[i]!)));
    if (off < nearest.off - 1e-9) nearest = { index, off };
  }
  return nearest.index;
}
