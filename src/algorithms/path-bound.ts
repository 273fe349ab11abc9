import { has, type PartSet } from '../base/part-set.js';
import { assign } from './assignment.js';

/**
 * Lower bounds on the cheapest path from `last` through all nodes not in `visited` to node n-1. Every node left
 * by one arc and reached by one arc is an assignment; its dual prices for the whole problem, worked out once,
 * are summed over what remains, and to that is added what the reduced costs still force: the greater of the row
 * minima and the column minima.
 *
 * @param arcs cost of each arc, infinite where it cannot be used; node 0 is the first, n-1 the last
 */
export function remainingPathBound(
  arcs: readonly (readonly number[])[],
): (visited: PartSet, last: number) => number {
  const n = arcs.length;
  const prices = assign(arcs.slice(0, n - 1).map((row) => row.slice(1)));
  if (prices === undefined) return () => Infinity;
  const leave = [...prices.rowPrice, 0];
  const reach = [0, ...prices.columnPrice];
  const reduced = arcs.map((row, i) => Float64Array.from(row, (cost, j) => cost - leave[i]! - reach[j]!));
  const columns = new Float64Array(n);
  const ahead = new Int32Array(n);

  return (visited, last) => {
    let count = 0;
    let priced = leave[last]!;
    for (let j = 0; j < n; j += 1) {
      if (has(visited, j)) continue;
      ahead[count] = j;
      count += 1;
      priced += leave[j]! + reach[j]!;
    }
    if (count === 0) return 0;
    return priced + forcedCost(reduced, last, ahead.subarray(0, count), columns);
  };
}

/** The greater of the row minima and the column minima of the reduced costs among the nodes ahead. */
function forcedCost(
  reduced: readonly Float64Array[],
  last: number,
  ahead: Int32Array,
  columns: Float64Array,
): number {
  const size = ahead.length;
  const end = reduced.length - 1;
  columns.fill(Infinity, 0, size);
  let rows = 0;
  for (let at = -1; at < size; at += 1) {
    const from = at < 0 ? last : ahead[at]!;
    if (from === end) continue;
    const row = reduced[from]!;
    let least = Infinity;
    for (let k = 0; k < size; k += 1) {
      const cost = row[ahead[k]!]!;
      if (cost < least) least = cost;
      if (cost < columns[k]!) columns[k] = cost;
    }
    rows += least;
  }
  let columnSum = 0;
  for (let k = 0; k < size; k += 1) columnSum += columns[k]!;
  return Math.max(rows, columnSum);
}
