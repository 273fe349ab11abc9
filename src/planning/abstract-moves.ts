import type { StateRow } from '../algorithms/solvers/packed-problem.js';
import { has, intersects, isSubset, type PartSet } from '../base/part-set.js';
import type { OrderMasks } from './abstract-facts.js';
import { FirstMoves } from './abstract-first.js';
import { lowestInBoth, type FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER } from './abstract-ways.js';
import type { OrderWishes } from './order-wishes.js';

/**
 * - `all`: every part that may join, in every way worth looking at;
 * - `needed`: some best plan goes this way, and of those that are the same but for what does not matter, few are left:
 *   1. Parts that can be exchanged come by number (see `inOneOrder`).
 *   2. Where a part may join in its best way without a change of gripper, only that. Whatever a plan does next, it can
 *      do after this move too, and it saves the part later on: the changes are no more when the part is left out there.
 *      Not for the first part where contacts are given: which one begins decides what may follow.
 *   3. Where no part may, and a change to some gripper lets parts join in their best way, only the first of them by
 *      number with that gripper: once the gripper is on the arm it may come first by the reason above, so that what a
 *      plan does after the change can be done after this move too.
 *   4. A part does not join in a worse way while another part ahead, which only one gripper can take, will bring a
 *      gripper for a better way, and no part waits for it: right after that other part it costs less, and in between nobody
 *      misses it. A plan with the worse way is thus never among the best.
 *   5. Of the parts that may begin where contacts are given, see `FirstMoves`.
 *   Soft wishes about the order of parts: 2 and 3 speak of parts only once all that are wished before them are in place,
 *   4 of none that is wished before one ahead, since only then nothing is broken by it. Where such a wish, or one for the first part,
 *   could be broken by the first move, all first moves are looked at.
 */
export type Moves = 'all' | 'needed';

/** Writes every move that is legal in a state, and says how many there are. */
export function everyMove(flat: FlatTables, state: StateRow, into: Int32Array): number {
  const { width, firstMove } = flat;
  let count = 0;
  for (let i = 0; i < width; i += 1)
    for (let rest = state[width + 1 + i]!; rest !== 0; rest &= rest - 1) {
      const part = i * 32 + 31 - Math.clz32(rest & -rest);
      for (let move = firstMove[part]!; move < firstMove[part + 1]!; move += 1) into[count++] = move;
    }
  return count;
}

/** The moves that are needed, by the reasons of `Moves`. A state is a row as `AbstractProblem` says. */
export class NeededMoves {
  private readonly first: FirstMoves | undefined;
  /** Per gripper, the first part that may join with it in its best way, or -1. */
  private readonly lowest: Int32Array;
  /** Parts that may join and are wished after none ahead; undefined where no wish is about the order. */
  private readonly ready: Uint32Array | undefined;

  constructor(
    private readonly flat: FlatTables,
    private readonly masks: OrderMasks,
    begins: PartSet,
    private readonly wishes: OrderWishes,
  ) {
    this.lowest = new Int32Array(flat.grippers);
    if (wishes.any) this.ready = new Uint32Array(flat.width);
    if (this.anyFirst()) return;
    if (masks.touching.some((touched) => touched !== undefined))
      this.first = new FirstMoves(flat, masks, begins);
  }

  write(state: StateRow, into: Int32Array): number {
    const { width } = this.flat;
    if (isEmpty(state, width)) {
      if (this.anyFirst()) return everyMove(this.flat, state, into);
      if (this.first !== undefined) return this.first.write(into);
    }
    if (this.ready !== undefined) this.markReady(state, this.ready);
    const enough = this.bestWithoutChange(state);
    if (enough < 0) return this.worthChoosing(state, into);
    into[0] = enough;
    return 1;
  }

  /** Whether a wish speaks of the first part, or could be broken by it. */
  private anyFirst(): boolean {
    return this.wishes.any || this.masks.notFirst !== undefined;
  }

  private markReady(state: StateRow, ready: Uint32Array): void {
    const { width } = this.flat;
    for (let i = 0; i < width; i += 1) {
      ready[i] = state[width + 1 + i]!;
      for (let rest = ready[i]!; rest !== 0; rest &= rest - 1) {
        const part = i * 32 + 31 - Math.clz32(rest & -rest);
        if (!isSubset(this.wishes.earlier[part]!, state)) ready[i]! &= ~(1 << (part & 31));
      }
    }
  }

  /** The lowest of the parts that may join, breaking no wish, and are in a row of `sets`, or -1. */
  private lowestReady(state: StateRow, sets: Uint32Array, row: number): number {
    const { ready } = this;
    const { width } = this.flat;
    return ready === undefined
      ? lowestInBoth(state, width + 1, sets, row, width)
      : lowestInBoth(ready, 0, sets, row, width);
  }

  /** The move of the first part that may join in its best way without a change, or -1. */
  private bestWithoutChange(state: StateRow): number {
    const { width, grippers, bestBy, bestByAny } = this.flat;
    const mounted = state[width]!;
    const any = this.lowestReady(state, bestByAny, 0);
    const fits = mounted === grippers ? -1 : this.lowestReady(state, bestBy, mounted);
    if (any < 0 && fits < 0) return -1;
    return any >= 0 && (fits < 0 || any <= fits) ? this.moveOf(any, ANY_GRIPPER) : this.moveOf(fits, mounted);
  }

  /** The move of a part with a gripper for which it has a way. */
  private moveOf(part: number, gripper: number): number {
    const { firstMove, gripperOf } = this.flat;
    let move = firstMove[part]!;
    while (gripperOf[move] !== gripper) move += 1;
    return move;
  }

  /** No part may join in its best way without a change. */
  private worthChoosing(state: StateRow, into: Int32Array): number {
    const { lowest, flat } = this;
    const { width, grippers, gripperOf, partOf, rankOf, bestBy } = flat;
    const mounted = state[width]!;
    for (let gripper = 0; gripper < grippers; gripper += 1)
      lowest[gripper] = this.lowestReady(state, bestBy, gripper);
    const all = everyMove(flat, state, into);
    let count = 0;
    for (let i = 0; i < all; i += 1) {
      const move = into[i]!;
      const gripper = gripperOf[move]!;
      const changes = gripper !== ANY_GRIPPER && gripper !== mounted;
      if (changes && lowest[gripper] !== -1 && lowest[gripper] !== partOf[move]) continue;
      if (rankOf[move] !== 0 && this.canWait(move, state)) continue;
      into[count++] = move;
    }
    return count;
  }

  /** Whether another part will bring a gripper for a better way of the part, and no part waits for it. */
  private canWait(move: number, state: StateRow): boolean {
    const { width, firstMove, gripperOf, partOf, rankOf, onlyBy } = this.flat;
    const part = partOf[move]!;
    for (let other = firstMove[part]!; other < firstMove[part + 1]!; other += 1) {
      const gripper = gripperOf[other]!;
      if (gripper === ANY_GRIPPER || rankOf[other]! >= rankOf[move]!) continue;
      for (let i = 0; i < width; i += 1)
        if ((onlyBy[gripper * width + i]! & ~state[i]!) !== 0) return !this.isWaitedFor(part, state);
    }
    return false;
  }

  private isWaitedFor(part: number, state: StateRow): boolean {
    const { firstWaiting, waiting } = this.flat;
    const { before, touching } = this.masks;
    if (this.wishes.any && !isSubset(this.wishes.later[part]!, state)) return true;
    for (let at = firstWaiting[part]!; at < firstWaiting[part + 1]!; at += 1) {
      const other = waiting[at]!;
      if (has(state, other)) continue;
      if (has(before[other]!, part)) return true;
      const touched = touching[other];
      if (touched !== undefined && !intersects(touched, state)) return true;
    }
    return false;
  }
}

/** Whether no part is in place. */
export function isEmpty(state: StateRow, width: number): boolean {
  for (let i = 0; i < width; i += 1) if (state[i] !== 0) return false;
  return true;
}
