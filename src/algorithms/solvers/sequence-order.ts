import type { SequenceCosts } from './sequence-costs.js';

/**
 * An order of nodes with its cost, kept so that exchanging two adjacent blocks is cheap to judge. Node 0 is
 * before the first item, nodes 1 to `count` are the items of the first order, node `count + 1` is behind the
 * last item and costs nothing to reach; `order[0]` and `order[count + 1]` are the outer two.
 */
export class SequenceOrder {
  readonly count: number;
  readonly order: Int32Array;
  readonly place: Int32Array;
  readonly size: number;
  /** arcs[from * size + to]. */
  readonly arcs: Float64Array;
  cost = 0;
  private readonly items: readonly number[];
  private readonly precede: Uint8Array;
  private readonly first: Int32Array;

  /** @param items in a legal order */
  constructor(items: readonly number[], costs: SequenceCosts) {
    this.items = items;
    this.count = items.length;
    const size = items.length + 2;
    this.size = size;
    this.order = Int32Array.from({ length: size }, (_, i) => i);
    this.place = this.order.slice();
    this.first = new Int32Array(size);
    this.arcs = new Float64Array(size * size).fill(Infinity);
    this.precede = new Uint8Array(size * size);
    for (let from = 0; from <= this.count; from += 1) {
      this.arcs[from * size + size - 1] = 0;
      this.precede[from * size + size - 1] = 1;
      this.fillRow(from, costs);
    }
    this.precede.fill(1, 0, size);
    this.cost = this.costOf(this.order);
  }

  private fillRow(from: number, costs: SequenceCosts): void {
    const item = from === 0 ? -1 : this.items[from - 1]!;
    for (let to = 1; to <= this.count; to += 1) {
      if (to === from) continue;
      this.arcs[from * this.size + to] = costs.arcCost(item, this.items[to - 1]!);
      if (from > 0 && costs.mustPrecede(item, this.items[to - 1]!)) this.precede[from * this.size + to] = 1;
    }
  }

  /** The items of a whole order of nodes. */
  itemsOf(order: Int32Array): number[] {
    return Array.from(order.subarray(1, this.count + 1), (node) => this.items[node - 1]!);
  }

  /** The whole order of nodes for the same items in another order. */
  nodesOf(items: readonly number[]): Int32Array {
    const nodes = new Map(this.items.map((item, i) => [item, i + 1]));
    return Int32Array.from([0, ...items.map((item) => nodes.get(item)!), this.count + 1]);
  }

  costOf(order: Int32Array): number {
    let sum = 0;
    for (let at = 0; at <= this.count; at += 1) sum += this.arcs[order[at]! * this.size + order[at + 1]!]!;
    return sum;
  }

  /** What it adds to the cost when the block from i to j and the one from j + 1 to k change places. */
  change(i: number, j: number, k: number): number {
    const { order, arcs, size } = this;
    const [before, firstA, lastA] = [order[i - 1]! * size, order[i]!, order[j]! * size];
    const [firstB, lastB, behind] = [order[j + 1]!, order[k]! * size, order[k + 1]!];
    return (
      arcs[before + firstB]! +
      arcs[lastB + firstA]! +
      arcs[lastA + behind]! -
      (arcs[before + firstA]! + arcs[lastA + firstB]! + arcs[lastB + behind]!)
    );
  }

  /** The last place up to `to` of a node that the one at `at` must precede, or `at`. */
  lastAfter(at: number, to: number): number {
    const { order, precede, size } = this;
    const row = order[at]! * size;
    let place = to;
    while (place > at && precede[row + order[place]!] === 0) place -= 1;
    return place;
  }

  /** The first place from `from` of a node that must precede the one at `at`, or `at`. */
  firstBefore(at: number, from: number): number {
    const { order, precede, size } = this;
    const node = order[at]!;
    let place = from;
    while (place < at && precede[order[place]! * size + node] === 0) place += 1;
    return place;
  }

  /** Whether no node of the first block must come before one of the second. */
  mayExchange(i: number, j: number, k: number): boolean {
    const { order, precede, size } = this;
    for (let a = j; a >= i; a -= 1) {
      const row = order[a]! * size;
      for (let b = j + 1; b <= k; b += 1) if (precede[row + order[b]!] === 1) return false;
    }
    return true;
  }

  exchange(i: number, j: number, k: number): void {
    const { order, place, first } = this;
    this.cost += this.change(i, j, k);
    const length = j - i + 1;
    for (let at = 0; at < length; at += 1) first[at] = order[i + at]!;
    order.copyWithin(i, j + 1, k + 1);
    for (let at = 0; at < length; at += 1) order[k - length + 1 + at] = first[at]!;
    for (let at = i; at <= k; at += 1) place[order[at]!] = at;
  }

  /** Puts the nodes of some places back as they lay in a copy of `order`, and the cost with them. */
  restore(saved: Int32Array, from: number, to: number, cost: number): void {
    for (let at = from; at <= to; at += 1) {
      this.order[at] = saved[at]!;
      this.place[saved[at]!] = at;
    }
    this.cost = cost;
  }
}
