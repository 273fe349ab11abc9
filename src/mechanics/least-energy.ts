import type { PointStore } from './point-store.js';
import { SpringEnergy } from './spring-energy.js';
import { StiffnessMatrix } from './stiffness-matrix.js';

/**
 * Stiffness, N/mm, of a spring that keeps every body where it was when settling began, so that a body or a group that
 * nothing holds stays where it is instead of being anywhere. What it does to all that is held is taken back in the end.
 */
const STAY = 1e-3;
/** Settled once a whole step moves no body by more than this, mm (for turns at 100 mm); the step is still taken. */
const SETTLED = 1e-6;
/** Newton steps until a defect is called; real weldments take three to twenty. */
const MOST_STEPS = 200;
/** A search along a line ends when the slope is down to this share of where it began. */
const FLAT = 0.05;

/**
 * Moves the bodies (scaled motions, in place) to the least energy of springs and stops by Newton's method on its
 * piecewise second derivative. The first step goes toward where they would be if no spring yielded, since a shrinkage that
 * nothing hinders is then taken at once. Throws an Error when it does not settle, which no input should bring about.
 */
export function settleAt(
  springs: PointStore,
  stops: PointStore,
  motion: Float64Array,
): { readonly energy: SpringEnergy; readonly steps: number } {
  const energy = new SpringEnergy(springs, stops, motion);
  const matrix = new StiffnessMatrix(motion.length / 6, [springs, stops]);
  const start = motion.slice();
  const go = (direction: Float64Array, step: number): void => {
    energy.advance(step);
    for (let i = 0; i < motion.length; i += 1) motion[i]! += step * direction[i]!;
  };
  for (let steps = 1; steps <= MOST_STEPS; steps += 1) {
    const elastic = steps === 1 && energy.yields;
    fill(matrix, energy, elastic);
    const away = motion.map((value, i) => STAY * (value - start[i]!));
    const direction = matrix.descent(energy.gradient(away, elastic));
    energy.head(direction);
    const size = direction.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const step =
      size <= SETTLED ? 1 : stepAlong((share) => energy.slope(share) + stay(motion, start, direction, share));
    go(direction, step);
    if (elastic || (size > SETTLED && step > 0)) continue;
    // At rest the springs just balance what keeps bodies where they were: taking that back is one more solve.
    const free = matrix.descent(motion.map((value, i) => STAY * (start[i]! - value)));
    energy.head(free);
    go(free, 1);
    return { energy, steps };
  }
  throw new Error(`a weldment did not settle in ${MOST_STEPS} steps`);
}

/** Fills and factorises the matrix; a diagonal too small for the rounding of stiff weldments is raised until it will do. */
function fill(matrix: StiffnessMatrix, energy: SpringEnergy, elastic: boolean): void {
  for (let diagonal = STAY; diagonal < Infinity; diagonal *= 10) {
    matrix.reset(diagonal);
    energy.addTangent(matrix, elastic);
    if (matrix.factorise()) return;
  }
  throw new Error('the stiffness of a weldment is no number');
}

/** Slope of the springs that keep bodies where they were. */
function stay(motion: Float64Array, start: Float64Array, direction: Float64Array, step: number): number {
  let sum = 0;
  for (let i = 0; i < motion.length; i += 1)
    sum += (motion[i]! + step * direction[i]! - start[i]!) * direction[i]!;
  return STAY * sum;
}

/**
 * A step along a line at which a rising slope, negative at zero, is nearly nil: the whole step where that will do,
 * otherwise found between a step too short and one too long by the rule of false position (Illinois).
 */
function stepAlong(slope: (step: number) => number): number {
  const first = slope(0);
  if (first >= 0) return 0;
  const wanted = -FLAT * first;
  let [low, high] = [0, 1];
  let [slopeLow, slopeHigh] = [first, slope(1)];
  while (slopeHigh < -wanted && high < 1e6) {
    [low, slopeLow] = [high, slopeHigh];
    high *= 4;
    slopeHigh = slope(high);
  }
  if (Math.abs(slopeHigh) <= wanted) return high;
  for (let turn = 0; turn < 100; turn += 1) {
    const middle = low + ((high - low) * -slopeLow) / (slopeHigh - slopeLow);
    const there = slope(middle);
    if (Math.abs(there) <= wanted || !(middle > low && middle < high)) return middle;
    if (there < 0) {
      [low, slopeLow] = [middle, there];
      slopeHigh /= 2;
    } else {
      [high, slopeHigh] = [middle, there];
      slopeLow /= 2;
    }
  }
  return low;
}
