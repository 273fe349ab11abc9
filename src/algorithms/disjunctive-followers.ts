import type { Network } from './disjunctive-network.js';

/** Which operations cannot start before which, by arcs that are given or chosen: a closure that grows arc by arc. */
export class Followers {
  /** A row of bits for each operation; to be copied and set back as a whole. */
  readonly bits: Uint32Array;
  private readonly size: number;
  private readonly words: number;

  constructor({ size, order, after }: Pick<Network, 'size' | 'order' | 'after'>) {
    this.size = size;
    this.words = Math.ceil(size / 32);
    this.bits = new Uint32Array(size * this.words);
    for (let at = size - 1; at >= 0; at -= 1) {
      const from = order[at]!;
      for (let k = after.start[from]!; k < after.start[from + 1]!; k += 1) this.add(from, after.other[k]!);
    }
  }

  has(earlier: number, later: number): boolean {
    return (this.bits[earlier * this.words + (later >>> 5)]! & (1 << (later & 31))) !== 0;
  }

  /** Adds an arc that closes no circle; false when it says nothing new. */
  link(from: number, to: number): boolean {
    if (this.has(from, to)) return false;
    for (let i = 0; i < this.size; i += 1) if (i === from || this.has(i, from)) this.add(i, to);
    return true;
  }

  private add(from: number, to: number): void {
    const { bits, words } = this;
    for (let w = 0; w < words; w += 1) bits[from * words + w]! |= bits[to * words + w]!;
    bits[from * words + (to >>> 5)]! |= 1 << (to & 31);
  }
}
