import { factorise, lowerTriangle, solveFactorised, type LowerTriangle } from './cholesky.js';
import type { Inside } from './inside.js';

/** Shares of a pivot, and of the greatest, that are added to it, so that equations that say nothing new do no harm. */
const OWN_GRAIN = 1e-14;
const COMMON_GRAIN = 1e-18;

/** The sum of the columns under each cap. */
export function underCaps({ capStarts, capped, limits }: Inside, columns: Float64Array): Float64Array {
  const sums = new Float64Array(limits.length);
  for (let cap = 0; cap < sums.length; cap += 1)
    for (let c = capStarts[cap]!; c < capStarts[cap + 1]!; c += 1) sums[cap]! += columns[capped[c]!]!;
  return sums;
}

/** What the equations make of columns, on top of other numbers, one an equation. */
export function inEquations(
  { starts, rows, values }: Inside,
  columns: Float64Array,
  others: Float64Array,
): Float64Array {
  const sums = others.slice();
  for (let j = 0; j < columns.length; j += 1) {
    const column = columns[j]!;
    for (let k = starts[j]!; k < starts[j + 1]!; k += 1) sums[rows[k]!]! += values[k]! * column;
  }
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
    return this.downhill(new Float64Array(this.inside.columns), sums.slice());
  }

  /** Newton's step for a gradient, of which the equations make the opposite of these numbers. */
  step(gradient: Float64Array, sums: Float64Array): Float64Array {
    const free = inEquations(this.inside, this.measured(gradient.slice()), new Float64Array(sums.length));
    return this.downhill(
      gradient,
      sums.map((sum, i) => sum - free[i]!),
    );
  }

  /** The move against a gradient and the prices that the equations need for these numbers, which are spoilt. */
  private downhill(gradient: Float64Array, prices: Float64Array): Float64Array {
    const { starts, rows, values, columns } = this.inside;
    solveFactorised(this.matrix, prices);
    const slope = new Float64Array(columns);
    for (let j = 0; j < columns; j += 1) {
      let sum = gradient[j]!;
      for (let k = starts[j]!; k < starts[j + 1]!; k += 1) sum += values[k]! * prices[rows[k]!]!;
      slope[j] = -sum;
    }
    return this.measured(slope);
  }

  /** The inverse of the metric times a gradient, in its place (Sherman and Morrison's formula for each cap). */
  private measured(gradient: Float64Array): Float64Array {
    const { stretch, shares } = this;
    const { capStarts, capped } = this.inside;
    for (let j = 0; j < gradient.length; j += 1) gradient[j]! *= stretch[j]!;
    for (let cap = 0; cap < shares.length; cap += 1) {
      const end = capStarts[cap + 1]!;
      let sum = 0;
      for (let c = capStarts[cap]!; c < end; c += 1) sum += gradient[capped[c]!]!;
      sum *= shares[cap]!;
      for (let c = capStarts[cap]!; c < end; c += 1) gradient[capped[c]!]! -= stretch[capped[c]!]! * sum;
    }
    return gradient;
  }

  private addColumns(): void {
    const { inside, stretch } = this;
    const { starts, rows, values, columns } = inside;
    const { entries, size } = this.matrix;
    for (let j = 0; j < columns; j += 1) {
      const from = starts[j]!;
      const own = stretch[j]!;
      for (let k = from; k < starts[j + 1]!; k += 1) {
        const weight = values[k]! * own;
        const row = rows[k]! * size;
        for (let l = from; l <= k; l += 1) entries[row + rows[l]!]! += weight * values[l]!;
      }
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
