import { has, type PartSet } from '../base/part-set.js';
import type { Windows } from './layered-arcs.js';
import type { Precedence } from './precedence.js';

/** A slot of memory: "node m may still be ahead" is 2m, "node m may lie behind" is 2m + 1. */
export type Slot = number;

export const aheadSlot = (node: number): Slot => 2 * node;
export const behindSlot = (node: number): Slot => 2 * node + 1;

/**
 * What a relaxed path remembers at each node, as bits of a number, its memory there: bit b belongs to the b-th slot of
 * the node and is 0 only where the contrary is known. So more bits never mean less freedom, and all bits set is to know
 * nothing.
 */
export interface RememberedNodes {
  readonly slots: readonly (readonly Slot[])[];
  /** Of each node, where its memories begin among those of a position; one more at the end. */
  readonly offset: Int32Array;
  /** Of an arc (i, k) at [i * n + k]: where in `follower` the memories after it begin, by the memory before it. */
  readonly arcAt: Int32Array;
  /** Memory at k after the arc. */
  readonly follower: Uint16Array;
  /** Bits at i that must be set for the arc (i, k), at [i * n + k]: k may be ahead, and all before k may lie behind. */
  readonly needed: Uint16Array;
}

/** @param slots of each node, at most 16 */
export function rememberedNodes(
  slots: readonly (readonly Slot[])[],
  precedence: Precedence,
): RememberedNodes {
  const n = slots.length;
  const offset = new Int32Array(n + 1);
  slots.forEach((own, i) => (offset[i + 1] = offset[i]! + (1 << own.length)));
  const arcAt = new Int32Array(n * n).fill(-1);
  const needed = new Uint16Array(n * n);
  let size = 0;
  for (let i = 0; i < n; i += 1)
    for (let k = 0; k < n; k += 1) {
      if (i === k || has(precedence.before[i]!, k)) continue;
      arcAt[i * n + k] = size;
      size += 1 << slots[i]!.length;
      needed[i * n + k] = neededBits(slots[i]!, k, precedence.before[k]!);
    }
  const follower = new Uint16Array(size);
  for (let i = 0; i < n; i += 1)
    for (let k = 0; k < n; k += 1)
      if (arcAt[i * n + k]! >= 0)
        fillFollowers(i, k, slots, precedence, follower.subarray(arcAt[i * n + k]!));
  return { slots, offset, arcAt, follower, needed };
}

function neededBits(slots: readonly Slot[], k: number, before: PartSet): number {
  let bits = 0;
  slots.forEach((slot, b) => {
    if (slot === aheadSlot(k) || ((slot & 1) === 1 && has(before, slot >> 1))) bits |= 1 << b;
  });
  return bits;
}

function fillFollowers(
  i: number,
  k: number,
  slots: readonly (readonly Slot[])[],
  { before, after }: Precedence,
  into: Uint16Array,
): void {
  let set = 0;
  const copied: number[] = [];
  slots[k]!.forEach((slot, b) => {
    const m = slot >> 1;
    const behind = m === i || has(before[i]!, m) || has(before[k]!, m);
    const ahead = has(after[i]!, m) || has(after[k]!, m);
    if (behind || ahead) {
      if (behind === ((slot & 1) === 1)) set |= 1 << b;
      return;
    }
    const same = slots[i]!.indexOf(slot);
    if (same >= 0) copied.push(same, b);
    else set |= 1 << b;
  });
  for (let memory = 0; memory < 1 << slots[i]!.length; memory += 1) {
    let next = set;
    for (let c = 0; c < copied.length; c += 2) next |= ((memory >>> copied[c]!) & 1) << copied[c + 1]!;
    into[memory] = next;
  }
}

/**
 * The memory at a node in which everything is known: which nodes lie behind is said by the set.
 */
export function exactMemory(slots: readonly Slot[], behind: Uint32Array, from = 0): number {
  let memory = 0;
  for (let b = 0; b < slots.length; b += 1) {
    const slot = slots[b]!;
    const m = slot >> 1;
    const bit = (behind[from + (m >>> 5)]! >>> (m & 31)) & 1;
    memory |= (bit ^ (~slot & 1)) << b;
  }
  return memory;
}

/**
 * What the position alone says, as a mask of the memory of node i at position p, at [p * n + i]: nodes whose earliest
 * position is later are ahead, those whose latest is earlier are behind.
 */
export function masksByPosition(
  slots: readonly (readonly Slot[])[],
  { earliest, latest }: Windows,
): Uint16Array {
  const n = slots.length;
  const masks = new Uint16Array(n * n);
  for (let p = 0; p < n; p += 1)
    slots.forEach((own, i) => {
      let mask = 0;
      own.forEach((slot, b) => {
        const m = slot >> 1;
        if ((slot & 1) === 1 ? earliest[m]! <= p : latest[m]! >= p) mask |= 1 << b;
      });
      masks[p * n + i] = mask;
    });
  return masks;
}
