import { compareRows, copyRow } from '../algorithms/solvers/cost-rows.js';
import { has } from '../base/part-set.js';
import type { OrderMasks } from './abstract-facts.js';
import type { FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER } from './abstract-ways.js';
import type { TermPlaces } from './term-places.js';

const TERMS = 3;

/**
 * What chains of parts, each of which must come before the next, cost at least beyond the best ways of their parts: changes
 * of gripper between them, or ways that are worse and save changes, whichever is least in the order of the objective. All
 * other parts are left out, and what they add is nothing less than their best ways; so the most that any chain of
 * parts ahead says holds for all of them.
 */
export class Chains {
  /** Per part and gripper on the arm, or none, the worst chain that begins with the part. */
  private readonly rows: Float64Array;
  /** Parts by the most that a chain from them costs, whatever is on the arm, and these costs in this order. */
  private readonly ranked: Int32Array;
  private readonly most: Float64Array;
  private readonly least = new Float64Array(TERMS);

  /** @param order some legal order of all parts */
  constructor(
    private readonly flat: FlatTables,
    masks: OrderMasks,
    order: readonly number[],
    private readonly places: TermPlaces,
    private readonly toolChange: number,
  ) {
    const width = flat.grippers + 1;
    this.rows = new Float64Array(flat.parts * width * TERMS);
    const worst = new Float64Array(flat.parts * TERMS);
    for (const part of [...order].reverse()) {
      this.fill(part, masks, order);
      for (let gripper = 0; gripper < width; gripper += 1)
        raise(worst, part, this.rows, part * width + gripper);
    }
    this.ranked = Int32Array.from(order).sort(
      (a, b) => compareRows(worst, b * TERMS, worst, a * TERMS, TERMS) || a - b,
    );
    this.most = new Float64Array(flat.parts * TERMS);
    this.ranked.forEach((part, rank) =>
      this.most.set(worst.subarray(part * TERMS, (part + 1) * TERMS), rank * TERMS),
    );
  }

  /** Raises a bound to what chains of parts ahead force beside the best ways, which cost `regrips` and `time` with all tacks. */
  raise(state: Uint32Array, gripper: number, regrips: number, time: number, into: Float64Array): void {
    const { flat, ranked, most, rows, places, least } = this;
    const width = flat.grippers + 1;
    copyRow(into, 0, least, 0, TERMS);
    least[places.regrips]! -= regrips;
    least[places.time]! -= time;
    for (let rank = 0; rank < ranked.length; rank += 1) {
      if (compareRows(most, rank * TERMS, least, 0, TERMS) <= 0) break;
      const part = ranked[rank]!;
      if (((state[part >>> 5]! >>> (part & 31)) & 1) === 0) raise(least, 0, rows, part * width + gripper);
    }
    copyRow(least, 0, into, 0, TERMS);
    into[places.regrips]! += regrips;
    into[places.time]! += time;
  }

  private fill(part: number, { before }: OrderMasks, order: readonly number[]): void {
    const { flat, rows, places, toolChange } = this;
    const { grippers, firstMove, gripperOf, regripsOf, millisecondsOf, bestRegrips, bestMilliseconds } = flat;
    const width = grippers + 1;
    const after = new Float64Array(width * TERMS);
    for (const next of order)
      if (has(before[next]!, part))
        for (let gripper = 0; gripper < width; gripper += 1)
          raise(after, gripper, rows, next * width + gripper);
    const cost = new Float64Array(TERMS);
    for (let gripper = 0; gripper < width; gripper += 1) {
      const at = (part * width + gripper) * TERMS;
      rows.fill(Infinity, at, at + TERMS);
      for (let move = firstMove[part]!; move < firstMove[part + 1]!; move += 1) {
        const held = gripperOf[move] === ANY_GRIPPER ? gripper : gripperOf[move]!;
        const changes = gripper === grippers || gripper === held ? 0 : 1;
        cost[places.regrips] = regripsOf[move]! - bestRegrips[part]!;
        cost[places.changes] = changes;
        cost[places.time] = millisecondsOf[move]! - bestMilliseconds[part]! + changes * toolChange;
        for (let term = 0; term < TERMS; term += 1) cost[term]! += after[held * TERMS + term]!;
        if (compareRows(cost, 0, rows, at, TERMS) < 0) rows.set(cost, at);
      }
    }
  }
}

/** Makes a row at least another one. */
function raise(rows: Float64Array, row: number, others: Float64Array, other: number): void {
  if (compareRows(others, other * TERMS, rows, row * TERMS, TERMS) <= 0) return;
  for (let term = 0; term < TERMS; term += 1) rows[row * TERMS + term] = others[other * TERMS + term]!;
}
