import { factorise, lowerTriangle, solveFactorised, type LowerTriangle } from './cholesky.js';
import type { Inside } from './inside.js';

/** Shares of a pivot, and of the greatest, that are added to it, so that equations that say nothing new do no harm. */
const OWN_GRAIN = 1e-14;
const COMMON_GRAIN = 1e-18;

/** Puts the sum of the columns under each cap in a list. */
export function underCaps(
  { capStarts, capped, limits }: Inside,
  columns: Float64Array,
  into: Float64Array,
): void {
  for (let cap = 0; cap < limits.length; cap += 1) {
    const end = capStarts[cap + 1]!;
    let sum = 0;
    for (let c = capStarts[cap]!; c < end; c += 1) sum += columns[capped[c]!]!;
    into[cap] = sum;
  }
}

/** Adds what the equations make of columns to other numbers, one an equation. */
export function addEquations(
  { starts, rows, values }: Inside,
  columns: Float64Array,
  sums: Float64Array,
): void {
  for (let j = 0; j < columns.length; j += 1) {
    const column = columns[j]!;
    const end = starts[j + 1]!;
    for (let k = starts[j]!; k < end; k += 1) sums[rows[k]!]! += values[k]! * column;
  }
}

/**
 * A second derivative of the barrier of an inside, as a measure of moves: `stretch` of each column by itself is the inverse
 * of its own part, and each cap adds `press` times the square of the sum of its columns. Both are filled in, then settled, and
 * may be filled in anew: arrays are made once for all points that are looked at.
 */
export class BarrierMetric {
  readonly stretch: Float64Array;
  readonly press: Float64Array;
  private readonly shares: Float64Array;
  private readonly matrix: LowerTriangle;
  private readonly prices: Float64Array;
  /** What the stretched columns under a cap make of the equations, and of which of them they make anything. */
  private readonly capSums: Float64Array;
  private readonly touched: Int32Array;

  constructor(private readonly inside: Inside) {
    const { columns, equations, limits } = inside;
    this.stretch = new Float64Array(columns);
    this.press = new Float64Array(limits.length);
    this.shares = new Float64Array(limits.length);
    this.matrix = lowerTriangle(equations);
    this.prices = new Float64Array(equations);
    this.capSums = new Float64Array(equations);
    this.touched = new Int32Array(equations);
  }

  /** Takes stretch and press as they are; whether the equations could be factorised. */
  settle(): boolean {
    const { inside, stretch, press, shares } = this;
    underCaps(inside, stretch, shares);
    for (let cap = 0; cap < press.length; cap += 1)
      shares[cap] = press[cap]! / (1 + press[cap]! * shares[cap]!);
    this.matrix.entries.fill(0);
    this.addColumns();
    this.addCaps();
    return this.factorised();
  }

  /** The least move of which the equations make the opposite of these numbers, one an equation. */
  answer(sums: Float64Array, move: Float64Array): void {
    this.prices.set(sums);
    move.fill(0);
    this.downhill(move);
  }

  /** Newton's step for a gradient, of which the equations make the opposite of these numbers. */
  step(gradient: Float64Array, sums: Float64Array, move: Float64Array): void {
    const { inside, prices } = this;
    move.set(gradient);
    this.measure(move);
    prices.fill(0);
    addEquations(inside, move, prices);
    for (let i = 0; i < prices.length; i += 1) prices[i] = sums[i]! - prices[i]!;
    move.set(gradient);
    this.downhill(move);
  }

  /** Makes of a gradient the move against it and the prices that the equations need for the numbers in their place. */
  private downhill(gradient: Float64Array): void {
    const { starts, rows, values, columns } = this.inside;
    const { prices } = this;
    solveFactorised(this.matrix, prices);
    for (let j = 0; j < columns; j += 1) {
      const end = starts[j + 1]!;
      let sum = gradient[j]!;
      for (let k = starts[j]!; k < end; k += 1) sum += values[k]! * prices[rows[k]!]!;
      gradient[j] = -sum;
    }
    this.measure(gradient);
  }

  /** The inverse of the metric times a gradient, in its place (Sherman and Morrison's formula for each cap). */
  private measure(gradient: Float64Array): void {
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
  }

  private addColumns(): void {
    const { inside, stretch } = this;
    const { starts, rows, values, columns } = inside;
    const { entries, size } = this.matrix;
    for (let j = 0; j < columns; j += 1) {
      const from = starts[j]!;
      const end = starts[j + 1]!;
      const own = stretch[j]!;
      for (let k = from; k < end; k += 1) {
        const weight = values[k]! * own;
        const row = rows[k]! * size;
        for (let l = from; l <= k; l += 1) entries[row + rows[l]!]! += weight * values[l]!;
      }
    }
  }

  private addCaps(): void {
    const { entries, size } = this.matrix;
    const { capSums: sums, touched } = this;
    for (let cap = 0; cap < this.shares.length; cap += 1) {
      const count = this.sumCap(cap);
      for (let p = 0; p < count; p += 1) {
        const row = touched[p]! * size;
        const weight = sums[touched[p]!]! * this.shares[cap]!;
        for (let q = 0; q <= p; q += 1) entries[row + touched[q]!]! -= weight * sums[touched[q]!]!;
      }
    }
  }

  /** Of how many equations the stretched columns under a cap make anything. */
  private sumCap(cap: number): number {
    const { stretch, capSums: sums, touched } = this;
    const { starts, rows, values, capStarts, capped } = this.inside;
    sums.fill(0);
    for (let c = capStarts[cap]!; c < capStarts[cap + 1]!; c += 1) {
      const j = capped[c]!;
      const end = starts[j + 1]!;
      const own = stretch[j]!;
      for (let k = starts[j]!; k < end; k += 1) sums[rows[k]!]! += values[k]! * own;
    }
    let count = 0;
    for (let i = 0; i < sums.length; i += 1) if (sums[i] !== 0) touched[count++] = i;
    return count;
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
