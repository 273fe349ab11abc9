import { compareRows, copyRow } from '../algorithms/solvers/cost-rows.js';
import { has } from '../base/part-set.js';
import type { OrderMasks } from './abstract-facts.js';
import type { FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER } from './abstract-ways.js';
import { termCount, type TermPlaces } from './term-places.js';

/** Of the best ways of all parts ahead, and of the tacks not yet laid; what wishes cost at least with them. */
export interface Ahead {
  readonly regrips: number;
  /** Milliseconds. */
  readonly time: number;
  readonly penalty: number;
}

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
  private readonly least: Float64Array;
  private readonly terms: number;

  /** @param order some legal order of all parts */
  constructor(
    private readonly flat: FlatTables,
    masks: OrderMasks,
    order: readonly number[],
    private readonly places: TermPlaces,
    private readonly toolChange: number,
  ) {
    const width = flat.grippers + 1;
    const terms = termCount(places);
    this.terms = terms;
    this.least = new Float64Array(terms);
    this.rows = new Float64Array(flat.parts * width * terms);
    const worst = new Float64Array(flat.parts * terms);
    for (const part of [...order].reverse()) {
      this.fill(part, masks, order);
      for (let gripper = 0; gripper < width; gripper += 1)
        raise(worst, part, this.rows, part * width + gripper, terms);
    }
    this.ranked = Int32Array.from(order).sort(
      (a, b) => compareRows(worst, b * terms, worst, a * terms, terms) || a - b,
    );
    this.most = new Float64Array(flat.parts * terms);
    this.ranked.forEach((part, rank) =>
      this.most.set(worst.subarray(part * terms, (part + 1) * terms), rank * terms),
    );
  }

  /** Raises a bound to what chains of parts ahead force beside the best ways, which cost `ahead` with all tacks. */
  raise(state: Uint32Array, gripper: number, ahead: Ahead, into: Float64Array): void {
    const { flat, ranked, most, rows, places, least, terms } = this;
    const { regrips, time, penalty } = ahead;
    const width = flat.grippers + 1;
    copyRow(into, 0, least, 0, terms);
    if (places.wishes >= 0) least[places.wishes]! -= penalty;
    least[places.regrips]! -= regrips;
    least[places.time]! -= time;
    for (let rank = 0; rank < ranked.length; rank += 1) {
      if (compareRows(most, rank * terms, least, 0, terms) <= 0) break;
      const part = ranked[rank]!;
      if (((state[part >>> 5]! >>> (part & 31)) & 1) === 0)
        raise(least, 0, rows, part * width + gripper, terms);
    }
    copyRow(least, 0, into, 0, terms);
    if (places.wishes >= 0) into[places.wishes]! += penalty;
    into[places.regrips]! += regrips;
    into[places.time]! += time;
  }

  private fill(part: number, { before }: OrderMasks, order: readonly number[]): void {
    const { flat, rows, places, toolChange, terms } = this;
    const { grippers, firstMove, gripperOf, regripsOf, millisecondsOf, penaltyOf } = flat;
    const { bestRegrips, bestMilliseconds, bestPenalty } = flat;
    const width = grippers + 1;
    const after = new Float64Array(width * terms);
    for (const next of order)
      if (has(before[next]!, part))
        for (let gripper = 0; gripper < width; gripper += 1)
          raise(after, gripper, rows, next * width + gripper, terms);
    const cost = new Float64Array(terms);
    for (let gripper = 0; gripper < width; gripper += 1) {
      const at = (part * width + gripper) * terms;
      rows.fill(Infinity, at, at + terms);
      for (let move = firstMove[part]!; move < firstMove[part + 1]!; move += 1) {
        const held = gripperOf[move] === ANY_GRIPPER ? gripper : gripperOf[move]!;
        const changes = gripper === grippers || gripper === held ? 0 : 1;
        cost[places.regrips] = regripsOf[move]! - bestRegrips[part]!;
        cost[places.changes] = changes;
        cost[places.time] = millisecondsOf[move]! - bestMilliseconds[part]! + changes * toolChange;
        if (places.wishes >= 0) cost[places.wishes] = penaltyOf[move]! - bestPenalty[part]!;
        for (let term = 0; term < terms; term += 1) cost[term]! += after[held * terms + term]!;
        if (compareRows(cost, 0, rows, at, terms) < 0) rows.set(cost, at);
      }
    }
  }
}

/** Makes a row at least another one. */
function raise(rows: Float64Array, row: number, others: Float64Array, other: number, terms: number): void {
  if (compareRows(others, other * terms, rows, row * terms, terms) <= 0) return;
  for (let term = 0; term < terms; term += 1) rows[row * terms + term] = others[other * terms + term]!;
}
