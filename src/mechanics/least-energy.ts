import type { PointStore } from './point-store.js';
import { SpringEnergy } from './spring-energy.js';
import { StiffnessMatrix } from './stiffness-matrix.js';

/**
 * Stiffness, N/mm, of a spring that keeps every body where it was when settling began, so that a body or a group that
 * nothing holds stays where it is instead of being anywhere. A move of 5 mm against a hold of 500 N/mm is spoilt by
 * 1e-6 mm.
 */
const STAY = 1e-4;
/** Settled when the next whole step would move no body by more than this, mm (for turns at 100 mm). */
const SETTLED = 1e-8;
/** Newton steps until a defect is called; real weldments take three to twenty. */
const MOST_STEPS = 200;
/** A search along a line ends when the slope is down to this share of where it began. */
const FLAT = 0.05;

/**
 * Moves the bodies (scaled motions, in place) to the least energy of springs and stops by Newton's method on its
 * piecewise second derivative. The first step takes all springs as elastic, since a shrinkage that nothing hinders is
 * then taken in one step. Throws an Error when it does not settle, which no input should bring about.
 */
export function settleAt(
  springs: PointStore,
  stops: PointStore,
  motion: Float64Array,
): { readonly energy: SpringEnergy; readonly steps: number } {
  const energy = new SpringEnergy(springs, stops, motion);
  const matrix = new StiffnessMatrix(motion.length / 6, [springs, stops]);
  const start = motion.slice();
  for (let steps = 1; steps <= MOST_STEPS; steps += 1) {
    const elastic = steps === 1;
    const yields = energy.yields;
    const gradient = motion.map((value, i) => STAY * (value - start[i]!));
    energy.addGradient(gradient);
    matrix.reset(STAY);
    energy.addTangent(matrix, elastic);
    if (!matrix.factorise()) throw new Error('the stiffness of a weldment has no factor');
    const direction = matrix.descent(gradient);
    const size = direction.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    energy.head(direction);
    const along = (step: number): number => energy.slope(step) + stay(motion, start, direction, step);
    const step = size <= SETTLED ? 1 : stepAlong(along);
    energy.advance(step);
    for (let i = 0; i < motion.length; i += 1) motion[i]! += step * direction[i]!;
    if (size <= SETTLED && !(elastic && yields)) return { energy, steps };
  }
  throw new Error(`a weldment did not settle in ${MOST_STEPS} steps`);
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
  if (first >= 0) return 1;
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
