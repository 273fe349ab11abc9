import { factorise, lowerTriangle, solveFactorised, type LowerTriangle } from './cholesky.js';
import type { Inside } from './inside.js';

/** Shares of a pivot, and of the greatest, that are added to it, so that equations that say nothing new do no harm. */
const OWN_GRAIN = 1e-14;
const COMMON_GRAIN = 1e-18;

/** The sum of the columns under each cap. */
export function underCaps({ capStarts, capped, limits }: Inside, columns: Float64Array): Float64Array {
  return limits.map((_, cap) => {
    let sum = 0;
    for (let c = capStarts[cap]!; c < capStarts[cap + 1]!; c += 1) sum += columns[capped[c]!]!;
    return sum;
  });
}

/** What the equations make of columns, on top of other numbers, one an equation. */
export function inEquations(
  { starts, rows, values }: Inside,
  columns: Float64Array,
  others: Float64Array,
): Float64Array {
  const sums = others.slice();
  for (let j = 0; j < columns.length; j += 1)
    for (let k = starts[j]!; k < starts[j + 1]!; k += 1) sums[rows[k]!]! += values[k]! * columns[j]!;
  return sums;
}

/**
 * A second derivative of the barrier of an inside, as a measure of moves: `stretch` of each column by itself is the inverse
 * of its own part, and each cap adds `press` times the square of the sum of its columns. Factorised when it is made.
 */
export class BarrierMetric {
  private readonly shares: Float64Array;
  private readonly matrix: LowerTriangle;
  /** Whether the equations could be factorised. */
  readonly sound: boolean;

  constructor(
    private readonly inside: Inside,
    private readonly stretch: Float64Array,
    press: Float64Array,
  ) {
    const sums = underCaps(inside, stretch);
    this.shares = press.map((weight, cap) => weight / (1 + weight * sums[cap]!));
    this.matrix = lowerTriangle(inside.equations);
    this.addColumns();
    this.addCaps();
    this.sound = this.factorised();
  }

  /** The least move of which the equations make the opposite of these numbers, one an equation. */
  answer(sums: Float64Array): Float64Array {
    return this.step(new Float64Array(this.inside.columns), sums);
  }

  /** Newton's step for a gradient, of which the equations make the opposite of these numbers. */
  step(gradient: Float64Array, sums: Float64Array): Float64Array {
    const downhill = this.measured(gradient);
    const prices = inEquations(this.inside, downhill, new Float64Array(sums.length));
    for (let i = 0; i < prices.length; i += 1) prices[i] = sums[i]! - prices[i]!;
    solveFactorised(this.matrix, prices);
    const { starts, rows, values } = this.inside;
    const slope = gradient.map((value, j) => {
      let sum = value;
      for (let k = starts[j]!; k < starts[j + 1]!; k += 1) sum += values[k]! * prices[rows[k]!]!;
      return -sum;
    });
    return this.measured(slope);
  }

  /** The inverse of the metric times a gradient (Sherman and Morrison's formula for each cap). */
  private measured(gradient: Float64Array): Float64Array {
    const { stretch, shares, inside } = this;
    const moves = gradient.map((value, j) => value * stretch[j]!);
    const sums = underCaps(inside, moves);
    for (let cap = 0; cap < sums.length; cap += 1)
      for (let c = inside.capStarts[cap]!; c < inside.capStarts[cap + 1]!; c += 1) {
        const j = inside.capped[c]!;
        moves[j]! -= stretch[j]! * shares[cap]! * sums[cap]!;
      }
    return moves;
  }

  private addColumns(): void {
    const { starts, rows, values, columns } = this.inside;
    const { entries, size } = this.matrix;
    for (let j = 0; j < columns; j += 1)
      for (let k = starts[j]!; k < starts[j + 1]!; k += 1) {
        const weight = values[k]! * this.stretch[j]!;
        const row = rows[k]! * size;
        for (let l = starts[j]!; l <= k; l += 1) entries[row + rows[l]!]! += weight * values[l]!;
      }
  }

  private addCaps(): void {
    const { starts, rows, values, capStarts, capped } = this.inside;
    const { entries, size } = this.matrix;
    const sums = new Float64Array(size);
    for (let cap = 0; cap < this.shares.length; cap += 1) {
      sums.fill(0);
      for (let c = capStarts[cap]!; c < capStarts[cap + 1]!; c += 1) {
        const j = capped[c]!;
        for (let k = starts[j]!; k < starts[j + 1]!; k += 1) sums[rows[k]!]! += values[k]! * this.stretch[j]!;
      }
      for (let i = 0; i < size; i += 1) {
        if (sums[i] === 0) continue;
        const weight = sums[i]! * this.shares[cap]!;
        for (let l = 0; l <= i; l += 1) entries[i * size + l]! -= weight * sums[l]!;
      }
    }
  }

  private factorised(): boolean {
    const { entries, size } = this.matrix;
    let most = 0;
    for (let i = 0; i < size; i += 1) most = Math.max(most, entries[i * size + i]!);
    for (let i = 0; i < size; i += 1)
      entries[i * size + i]! += OWN_GRAIN * entries[i * size + i]! + COMMON_GRAIN * most;
    return factorise(this.matrix).ok;
  }
}
