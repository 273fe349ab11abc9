import { has } from '../base/part-set.js';
import { mayJoin, type OrderMasks } from './abstract-facts.js';
import type { FlatTables } from './abstract-tables.js';
import { ANY_GRIPPER } from './abstract-ways.js';
import { SequenceMemory } from './sequence-memory.js';

/** How many sequences of grippers are looked through at most for one state; our choice. */
const MOST_SEQUENCES = 4096;
/** And how long they are at most, where there are but two grippers. */
const LONGEST = 24;
/** Places for answers that are kept, 2^18: our choice, some megabytes. */
const MOST_KEPT = 2 ** 18;

/**
 * The fewest tool changes with which the parts ahead can come, whatever else their ways cost. Then nothing is lost by
 * taking every part that may join with the gripper on the arm, since what may join now may join later: so only the sequence of
 * grippers is left to choose. Up to a number of changes that keeps the sequences few; from there on only that it is no less.
 */
export class LeastChanges {
  /** Up to so many the answer is exact. */
  private readonly deepest: number;
  /** Per gripper, and in the last row for no gripper, the parts that it can take. */
  private readonly takes: Uint32Array;
  private readonly all: Uint32Array;
  private readonly known: SequenceMemory;
  /** Rows of the sequence that is looked through: parts in place, and parts that may join. */
  private readonly rows: Uint32Array[];

  constructor(
    private readonly flat: FlatTables,
    private readonly masks: OrderMasks,
  ) {
    const { grippers, width, parts, partOf, gripperOf } = flat;
    const choices = Math.max(2, grippers - 1);
    this.deepest = Math.min(LONGEST, Math.floor(Math.log(MOST_SEQUENCES) / Math.log(choices) + 1e-9));
    this.takes = new Uint32Array((grippers + 1) * width);
    partOf.forEach((part, move) => {
      const [word, bit] = [part >>> 5, 1 << (part & 31)];
      if (gripperOf[move] !== ANY_GRIPPER) this.takes[gripperOf[move]! * width + word]! |= bit;
      else for (let row = 0; row <= grippers; row += 1) this.takes[row * width + word]! |= bit;
    });
    this.all = new Uint32Array(width);
    for (let part = 0; part < parts; part += 1) this.all[part >>> 5]! |= 1 << (part & 31);
    this.known = new SequenceMemory(width, MOST_KEPT);
    this.rows = Array.from({ length: this.deepest + 2 }, () => new Uint32Array(2 * width));
  }

  /**
   * @param state the parts in place, of which there is at least one, or any may begin; from `joining` on, those that may join
   * @param gripper number of the gripper on the arm; the number of grippers while any may be mounted
   * @param atLeast known from elsewhere
   */
  least(state: Uint32Array, joining: number, gripper: number, atLeast: number): number {
    const { width, grippers } = this.flat;
    const row = this.rows[0]!;
    for (let i = 0; i < width; i += 1) {
      row[i] = state[i]!;
      row[width + i] = state[joining + i]!;
    }
    this.takeAll(row, gripper);
    if (this.isWhole(row)) return atLeast;
    // Mounting the first gripper is no change.
    const free = gripper === grippers ? 1 : 0;
    let changes = Math.max(atLeast, 1 - free);
    while (changes < this.deepest && !this.canDo(0, gripper, changes + free)) changes += 1;
    return changes;
  }

  /** Whether so many mountings are enough from a row where the gripper on the arm can take no part. */
  private canDo(depth: number, gripper: number, mountings: number): boolean {
    const row = this.rows[depth]!;
    if (this.isWhole(row)) return true;
    if (mountings === 0) return false;
    const { grippers } = this.flat;
    const known = this.known.ask(row, gripper, mountings);
    if (known !== 'unknown') return known === 'enough';
    const next = this.rows[depth + 1]!;
    let can = false;
    for (let other = 0; other < grippers && !can; other += 1) {
      if (other === gripper || !this.takesAny(row, other)) continue;
      next.set(row);
      this.takeAll(next, other);
      can = this.canDo(depth + 1, other, mountings - 1);
    }
    this.known.tell(row, gripper, mountings, can);
    return can;
  }

  private takesAny(row: Uint32Array, gripper: number): boolean {
    const { width } = this.flat;
    for (let i = 0; i < width; i += 1)
      if ((row[width + i]! & this.takes[gripper * width + i]!) !== 0) return true;
    return false;
  }

  private isWhole(row: Uint32Array): boolean {
    for (let i = 0; i < this.all.length; i += 1) if (this.all[i] !== row[i]) return false;
    return true;
  }

  /** Puts every part in place that may join with a gripper, and what may join then. */
  private takeAll(row: Uint32Array, gripper: number): void {
    const { flat, masks, takes } = this;
    const { width, firstWaiting, waiting } = flat;
    for (let grown = true; grown;) {
      grown = false;
      for (let i = 0; i < width; i += 1) {
        const taken = row[width + i]! & takes[gripper * width + i]!;
        if (taken === 0) continue;
        grown = true;
        row[i]! |= taken;
        row[width + i]! &= ~taken;
        for (let rest = taken; rest !== 0; rest &= rest - 1) {
          const part = i * 32 + 31 - Math.clz32(rest & -rest);
          for (let at = firstWaiting[part]!; at < firstWaiting[part + 1]!; at += 1) {
            const other = waiting[at]!;
            if (!has(row, other) && mayJoin(masks, other, row))
              row[width + (other >>> 5)]! |= 1 << (other & 31);
          }
        }
      }
    }
  }
}
