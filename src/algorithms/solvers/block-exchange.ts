import type { Budget } from '../../base/budget.js';
import { NumberQueue } from '../number-queue.js';
import type { SequenceOrder } from './sequence-order.js';

/** Nodes from which a node is best reached that are tried. Our choice. */
const NEAR = 12;

/**
 * Local search by exchanging two adjacent blocks of an order of any lengths, which changes three arcs and
 * turns no block round (the exchange of Gambardella and Dorigo, INFORMS Journal on Computing 12, 2000; with
 * lists of near nodes and positive partial gains after Lin and Kernighan, Operations Research 21, 1973). Of
 * the three new arcs one at least is cheaper than the old arc into the same node, so it is enough to look
 * from every node for a better one to come from.
 */
export class BlockExchange {
  /** Places changed since `mark`; `from` is above `to` when there are none. */
  from = 0;
  to = -1;
  private readonly near: Int32Array;
  private readonly nearCount: number;
  private readonly queue: NumberQueue;

  constructor(private readonly sequence: SequenceOrder) {
    const { size, count, arcs } = sequence;
    this.nearCount = Math.min(NEAR, count);
    this.near = new Int32Array(size * this.nearCount).fill(-1);
    this.queue = new NumberQueue(size);
    for (let node = 1; node <= count + 1; node += 1) {
      const tails = Array.from({ length: count + 1 }, (_, tail) => tail)
        .filter((tail) => arcs[tail * size + node]! < Infinity)
        .sort((a, b) => arcs[a * size + node]! - arcs[b * size + node]! || a - b);
      tails.slice(0, this.nearCount).forEach((tail, i) => (this.near[node * this.nearCount + i] = tail));
    }
  }

  mark(): void {
    this.from = this.sequence.size;
    this.to = -1;
  }

  lookAtAll(): void {
    for (let at = 1; at < this.sequence.size; at += 1) this.queue.push(this.sequence.order[at]!);
  }

  /**
   * Exchanges as long as it helps; one step of the budget for each node that is looked at. False when the
   * budget is spent.
   */
  descend(budget: Budget): boolean {
    for (;;) {
      const node = this.queue.shift();
      if (node < 0) return true;
      if (!budget.take()) {
        this.queue.clear();
        return false;
      }
      if (this.improve(node)) this.queue.push(node);
    }
  }

  exchange(i: number, j: number, k: number): void {
    const { order, count } = this.sequence;
    for (const at of [i - 1, i, j, j + 1, k, k + 1]) {
      if (at > 0) this.queue.push(order[at]!);
      if (at <= count) this.queue.push(order[at + 1]!);
    }
    this.sequence.exchange(i, j, k);
    if (i < this.from) this.from = i;
    if (k > this.to) this.to = k;
  }

  /** Makes the first exchange found that gives the node a cheaper arc to come by, and a cheaper order. */
  private improve(node: number): boolean {
    const { arcs, place, order, size } = this.sequence;
    const at = place[node]!;
    const now = arcs[order[at - 1]! * size + node]!;
    for (let i = 0; i < this.nearCount; i += 1) {
      const tail = this.near[node * this.nearCount + i]!;
      if (tail < 0 || arcs[tail * size + node]! >= now) return false;
      const from = place[tail]!;
      const found = from > at ? this.byCut(at, from) : this.byStart(from, at) || this.byEnd(from, at);
      if (found) return true;
    }
    return false;
  }

  /**
   * The blocks span from i to k; where is the cut? Behind what the first node must precede, before what the
   * last must follow.
   */
  private byCut(i: number, k: number): boolean {
    const { sequence } = this;
    const earliest = sequence.lastAfter(i, k);
    const latest = sequence.firstBefore(k, i) - 1;
    for (let j = earliest; j <= latest; j += 1) {
      if (sequence.change(i, j, k) >= 0 || !sequence.mayExchange(i, j, k)) continue;
      this.exchange(i, j, k);
      return true;
    }
    return false;
  }

  /** The first block ends at `from`, the second one before `at`; where does the first one begin? */
  private byStart(from: number, at: number): boolean {
    const { sequence } = this;
    if (sequence.lastAfter(from, at - 1) > from) return false;
    for (let i = from; i >= 1; i -= 1) {
      if (sequence.change(i, from, at - 1) >= 0) continue;
      if (!sequence.mayExchange(i, from, at - 1)) return false;
      this.exchange(i, from, at - 1);
      return true;
    }
    return false;
  }

  /** The first block begins behind `from`, the second one at `at`; where does the second one end? */
  private byEnd(from: number, at: number): boolean {
    const { sequence } = this;
    if (sequence.firstBefore(at, from + 1) < at) return false;
    for (let k = at; k <= sequence.count; k += 1) {
      if (sequence.change(from + 1, at - 1, k) >= 0) continue;
      if (!sequence.mayExchange(from + 1, at - 1, k)) return false;
      this.exchange(from + 1, at - 1, k);
      return true;
    }
    return false;
  }
}
