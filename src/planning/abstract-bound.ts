import { compareRows, copyRow } from '../algorithms/solvers/cost-rows.js';
import type { OrderMasks } from './abstract-facts.js';
import { Chains, type Ahead } from './abstract-chains.js';
import { LeastChanges } from './abstract-changes.js';
import type { FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER } from './abstract-ways.js';
import { termCount, type TermPlaces } from './term-places.js';

/** Beyond this many grippers that may be done without, sets of them are not looked at: 2^6 sets in one state. */
const MOST_OPTIONAL = 6;
/** The bit of a gripper that is used in any case. */
const ALWAYS = 1 << 30;

/**
 * A lower bound on what the parts not yet in place will cost: the least over every set of grippers that may be used
 * for them, or what a chain of parts forces, whichever is more. With a set fixed, each part takes the best way that the
 * set offers, and the changes are at least one for each gripper of the set but the first. Tacks ahead are exact. Only sets that hold every gripper which some part cannot do without are looked at, and
 * of the others only those that would give some part its best way or stand in for it.
 */
export class RemainingCost {
  private readonly chains: Chains;
  private readonly changes: LeastChanges;
  private readonly required: Uint8Array;
  /** Per gripper, by which bit of a set it is used. */
  private readonly bitOf: Int32Array;
  private readonly without: Int32Array;
  private readonly cost: Float64Array;

  /** @param order some legal order of all parts */
  constructor(
    private readonly flat: FlatTables,
    masks: OrderMasks,
    order: readonly number[],
    private readonly places: TermPlaces,
    private readonly toolChange: number,
  ) {
    this.changes = new LeastChanges(flat, masks);
    this.chains = new Chains(flat, masks, order, places, toolChange);
    this.required = new Uint8Array(flat.grippers + 1);
    this.bitOf = new Int32Array(flat.grippers);
    this.without = new Int32Array(flat.parts);
    this.cost = new Float64Array(termCount(places));
  }

  /**
   * Writes the bound.
   *
   * @param state begins with the set of the parts in place
   * @param gripper number of the gripper on the arm; the number of grippers while any may be mounted
   * @param ahead what the best ways of all parts ahead cost
   */
  least(state: Uint32Array, gripper: number, ahead: Ahead, into: Float64Array): void {
    const needed = this.requiredGrippers(state, gripper);
    const changes = this.leastChanges(state, gripper, Math.max(needed - 1, 0));
    this.put(ahead, changes, into);
    const count = this.partsWithoutBest(state);
    if (count > 0) this.overSets(count, needed, changes, ahead, into);
    this.chains.raise(state, gripper, ahead, into);
  }

  private put({ regrips, time, penalty }: Ahead, changes: number, into: Float64Array): void {
    const { places } = this;
    into[places.regrips] = regrips;
    into[places.changes] = changes;
    into[places.time] = time + changes * this.toolChange;
    if (places.wishes >= 0) into[places.wishes] = penalty;
  }

  /** Not where nothing is in place: there contacts say nothing of what may follow. */
  private leastChanges(state: Uint32Array, gripper: number, atLeast: number): number {
    const { width } = this.flat;
    for (let i = 0; i < width; i += 1)
      if (state[i] !== 0) return this.changes.least(state, width + 1, gripper, atLeast);
    return atLeast;
  }

  /** Marks the grippers that some part ahead cannot do without, and the one on the arm; how many they are. */
  private requiredGrippers(state: Uint32Array, gripper: number): number {
    const { grippers, width, onlyBy } = this.flat;
    const { required } = this;
    let count = 0;
    for (let at = 0; at < grippers; at += 1) {
      let ahead = at === gripper ? 1 : 0;
      for (let i = 0; i < width; i += 1) ahead |= onlyBy[at * width + i]! & ~state[i]!;
      required[at] = ahead === 0 ? 0 : 1;
      count += required[at]!;
    }
    return count;
  }

  /** Lists the parts ahead whose best ways all use grippers that are not required. */
  private partsWithoutBest(state: Uint32Array): number {
    const { parts, width, grippers, bestBy, bestByAny } = this.flat;
    const { required, without } = this;
    let count = 0;
    for (let i = 0; i < width; i += 1) {
      let rest = ~state[i]! & ~bestByAny[i]!;
      for (let at = 0; at < grippers && rest !== 0; at += 1)
        if (required[at] === 1) rest &= ~bestBy[at * width + i]!;
      for (; rest !== 0; rest &= rest - 1) {
        const part = i * 32 + 31 - Math.clz32(rest & -rest);
        if (part < parts) without[count++] = part;
      }
    }
    return count;
  }

  /** The least over the sets of grippers that some part ahead can do without. */
  private overSets(count: number, needed: number, atLeast: number, ahead: Ahead, into: Float64Array): void {
    const { cost } = this;
    const optional = this.markOptional(count);
    if (optional > MOST_OPTIONAL) return;
    let found = false;
    for (let set = 0; set < 1 << optional; set += 1) {
      const changes = Math.max(needed + bits(set) - 1, atLeast);
      this.put(ahead, changes, cost);
      if (!this.addExtra(set, count) || (found && compareRows(cost, 0, into, 0, cost.length) >= 0)) continue;
      found = true;
      copyRow(cost, 0, into, 0, cost.length);
    }
  }

  /** Gives a bit to each gripper that is not required and could take a part without its best way; how many these are. */
  private markOptional(count: number): number {
    const { firstMove, gripperOf, grippers } = this.flat;
    const { bitOf, required, without } = this;
    for (let gripper = 0; gripper < grippers; gripper += 1)
      bitOf[gripper] = required[gripper] === 1 ? ALWAYS : 0;
    let length = 0;
    for (let i = 0; i < count; i += 1) {
      const part = without[i]!;
      for (let move = firstMove[part]!; move < firstMove[part + 1]!; move += 1) {
        const gripper = gripperOf[move]!;
        if (gripper === ANY_GRIPPER || bitOf[gripper] !== 0) continue;
        bitOf[gripper] = 1 << Math.min(length, MOST_OPTIONAL);
        length += 1;
      }
    }
    return length;
  }

  /** Adds what the parts without their best way cost more than that when some optional grippers are used; false where some cannot come. */
  private addExtra(set: number, count: number): boolean {
    const { bitOf, without, cost, places } = this;
    const { firstMove, byRank, gripperOf, partOf, regripsOf, millisecondsOf, penaltyOf } = this.flat;
    const { bestRegrips, bestMilliseconds, bestPenalty } = this.flat;
    const usable = set | ALWAYS;
    for (let i = 0; i < count; i += 1) {
      let at = firstMove[without[i]!]!;
      const end = firstMove[without[i]! + 1]!;
      while (
        at < end &&
        gripperOf[byRank[at]!] !== ANY_GRIPPER &&
        (bitOf[gripperOf[byRank[at]!]!]! & usable) === 0
      )
        at += 1;
      if (at === end) return false;
      const move = byRank[at]!;
      cost[places.regrips]! += regripsOf[move]! - bestRegrips[partOf[move]!]!;
      cost[places.time]! += millisecondsOf[move]! - bestMilliseconds[partOf[move]!]!;
      if (places.wishes >= 0) cost[places.wishes]! += penaltyOf[move]! - bestPenalty[partOf[move]!]!;
    }
    return true;
  }
}

function bits(set: number): number {
  let count = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}
