import type { Packed } from './linear-program-shape.js';

/** A value may pass its bound by this much of one plus the sizes that met in the sum. */
export const FEASIBLE_WITHIN = 1e-7;
/** The proved bound may differ from the objective by this much of one plus its size. */
export const PROVED_WITHIN = 1e-6;
/** A whole-numbered value may miss its number by this much, the tolerance of HiGHS. */
const WHOLE_WITHIN = 1e-6;
/** A reduced cost below this, at a column without a bound on that side, is rounding and proves nothing. */
const REDUCED_COST_GRAIN = 1e-7;

const beyond = (value: number, lower: number, upper: number): number =>
  Math.max(0, lower - value, value - upper);

/** The worst violation of any row or column bound, each divided by one plus the sizes that met in it. */
export function worstViolation(packed: Packed, values: Float64Array): number {
  let worst = 0;
  for (let j = 0; j < values.length; j += 1) {
    const excess = beyond(values[j]!, packed.lower[j]!, packed.upper[j]!);
    worst = Math.max(worst, excess / (1 + Math.abs(values[j]!)));
    const fraction = packed.integer?.[j] === 1 ? Math.abs(values[j]! - Math.round(values[j]!)) : 0;
    if (fraction > WHOLE_WITHIN) return Infinity;
  }
  for (let i = 0; i < packed.rowLower.length; i += 1) {
    let sum = 0;
    let size = 0;
    for (let k = packed.starts[i]!; k < packed.starts[i + 1]!; k += 1) {
      const term = packed.values[k]! * values[packed.indices[k]!]!;
      sum += term;
      size = Math.max(size, Math.abs(term));
    }
    worst = Math.max(worst, beyond(sum, packed.rowLower[i]!, packed.rowUpper[i]!) / (1 + size));
  }
  return Number.isNaN(worst) ? Infinity : worst;
}

/** By how much each row's sum misses its bounds: what has to be added to it. */
export function shortfalls(packed: Packed, values: Float64Array): Float64Array {
  return packed.rowLower.map((lower, i) => {
    let sum = 0;
    for (let k = packed.starts[i]!; k < packed.starts[i + 1]!; k += 1)
      sum += packed.values[k]! * values[packed.indices[k]!]!;
    return sum < lower ? lower - sum : Math.min(0, packed.rowUpper[i]! - sum);
  });
}

export function objectiveOf(packed: Packed, values: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < values.length; j += 1) sum += packed.cost[j]! * values[j]!;
  return sum;
}

/**
 * The bound on the objective that these row duals prove by weak duality. Reduced costs are computed afresh from the
 * rows, so that nothing but the row duals is taken on trust. For a minimum: sum of each dual times the row bound on
 * its side, plus each reduced cost times the column bound on its side (Dantzig 1963).
 */
export function provedBound(packed: Packed, rowDuals: Float64Array): number {
  const sense = packed.maximise ? -1 : 1;
  const reduced = packed.cost.slice();
  let bound = 0;
  for (let i = 0; i < rowDuals.length; i += 1) {
    const dual = rowDuals[i]!;
    if (dual === 0) continue;
    bound += priced(dual, sense, packed.rowLower[i]!, packed.rowUpper[i]!);
    for (let k = packed.starts[i]!; k < packed.starts[i + 1]!; k += 1)
      reduced[packed.indices[k]!]! -= dual * packed.values[k]!;
  }
  for (let j = 0; j < reduced.length; j += 1)
    if (reduced[j] !== 0) bound += priced(reduced[j]!, sense, packed.lower[j]!, packed.upper[j]!);
  return bound;
}

function priced(dual: number, sense: number, lower: number, upper: number): number {
  const bound = dual * sense > 0 ? lower : upper;
  if (!Number.isFinite(bound)) return Math.abs(dual) <= REDUCED_COST_GRAIN ? 0 : -sense * Infinity;
  return dual * bound;
}
