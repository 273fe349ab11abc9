import { has, setOf, withMember, type PartSet } from '../base/part-set.js';
import { mayJoin, type OrderMasks } from './abstract-facts.js';
import type { FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER } from './abstract-ways.js';

/**
 * The moves that a best plan may begin with, where contacts make the first part special. After a part that begins in a
 * best way, others come in their best ways without a change of gripper, as far as they may (reason 2 of `Moves`): these
 * are its followers. Where a part follows another, and both would begin with the same gripper in a best way, all that
 * follows the one follows the other too. So from there the other has at least as many parts in place, all in their best
 * ways and without a change, and whatever is done after the one can be done after the other, without the parts that it has
 * already. So the one need not begin; of two that follow each other, the first by number does.
 */
export class FirstMoves {
  private moves: Int32Array | undefined;

  constructor(
    private readonly flat: FlatTables,
    private readonly masks: OrderMasks,
    private readonly begins: PartSet,
  ) {}

  write(into: Int32Array): number {
    this.moves ??= this.worthBeginning();
    into.set(this.moves);
    return this.moves.length;
  }

  private worthBeginning(): Int32Array {
    const { partOf, gripperOf, rankOf } = this.flat;
    const all = Array.from(partOf.keys()).filter((move) => has(this.begins, partOf[move]!));
    const followers = new Map(
      all.filter((move) => rankOf[move] === 0).map((move) => [move, this.followers(move)]),
    );
    const follows = (other: number, move: number): boolean => has(followers.get(move)!, partOf[other]!);
    const spared = (move: number): boolean =>
      rankOf[move] === 0 &&
      [...followers.keys()].some(
        (other) =>
          other !== move &&
          gripperOf[other] === gripperOf[move] &&
          follows(move, other) &&
          (!follows(other, move) || other < move),
      );
    return Int32Array.from(all.filter((move) => !spared(move)));
  }

  /** The part of a best way and all parts that come after it in best ways without a change. */
  private followers(move: number): PartSet {
    const { parts, partOf, gripperOf } = this.flat;
    let inPlace = setOf(parts, [partOf[move]!]);
    for (let grown = true; grown;) {
      grown = false;
      for (let part = 0; part < parts; part += 1) {
        if (has(inPlace, part) || !this.isBestWith(part, gripperOf[move]!)) continue;
        if (!mayJoin(this.masks, part, inPlace)) continue;
        inPlace = withMember(inPlace, part);
        grown = true;
      }
    }
    return inPlace;
  }

  private isBestWith(part: number, gripper: number): boolean {
    const { width, bestBy, bestByAny } = this.flat;
    if (has(bestByAny, part)) return true;
    return gripper !== ANY_GRIPPER && ((bestBy[gripper * width + (part >>> 5)]! >>> (part & 31)) & 1) === 1;
  }
}
