import type { Network } from './disjunctive-network.js';
import type { Schedule } from './disjunctive-problem.js';

/** Spans of each resource in their order, by their number in the network. */
export type SpanOrders = readonly Int32Array[];

/**
 * Earliest times under given orders of the spans. Where a resource has no set-up times only neighbours need an
 * arc, since all times are at least 0; with set-up times every pair has one.
 */
export class Timing {
  readonly starts: Int32Array;
  makespan = 0;
  /** Operations so that each comes after all that fix its start. */
  private readonly sequence: Int32Array;
  private readonly missing: Int32Array;
  private readonly spansEnding: readonly Int32Array[];
  private readonly spansBeginning: readonly Int32Array[];
  readonly resourceOf: Int32Array;
  private readonly indexOf: Int32Array;
  readonly place: Int32Array;

  constructor(private readonly network: Network) {
    const { size, first, last, resources } = network;
    this.starts = new Int32Array(size);
    this.sequence = new Int32Array(size);
    this.missing = new Int32Array(size);
    this.spansEnding = spansAt(size, last);
    this.spansBeginning = spansAt(size, first);
    this.resourceOf = new Int32Array(first.length);
    this.indexOf = new Int32Array(first.length);
    this.place = new Int32Array(first.length);
    resources.forEach(({ spans }, resource) =>
      spans.forEach((span, index) => {
        this.resourceOf[span] = resource;
        this.indexOf[span] = index;
      }),
    );
  }

  /** Fills in `starts` and `makespan`; false when the orders make operations wait for each other. */
  run(orders: SpanOrders): boolean {
    const { size, durations, after, before } = this.network;
    const { starts, missing, sequence } = this;
    for (const order of orders) for (let i = 0; i < order.length; i += 1) this.place[order[i]!] = i;
    let count = 0;
    for (let i = 0; i < size; i += 1) {
      starts[i] = 0;
      missing[i] = before.start[i + 1]! - before.start[i]! + this.arcsInto(i);
      if (missing[i] === 0) sequence[count++] = i;
    }
    this.makespan = 0;
    for (let at = 0; at < count; at += 1) {
      const from = sequence[at]!;
      const start = starts[from]!;
      this.makespan = Math.max(this.makespan, start + durations[from]!);
      for (let k = after.start[from]!; k < after.start[from + 1]!; k += 1) {
        const to = after.other[k]!;
        starts[to] = Math.max(starts[to]!, start + after.lag[k]!);
        if ((missing[to]! -= 1) === 0) sequence[count++] = to;
      }
      count = this.passOn(from, orders, count);
    }
    return count === size;
  }

  /** The schedule of the orders that were timed last. */
  schedule(orders: SpanOrders): Schedule {
    return {
      makespan: this.makespan,
      starts: [...this.starts],
      orders: orders.map((order) => [...order].map((span) => this.indexOf[span]!)),
      critical: this.criticalPath(orders).map(({ operation }) => operation),
    };
  }

  /** A longest path, first to last; `span` is the one before whose end the operation waits for, where it is that. */
  criticalPath(
    orders: SpanOrders,
  ): { readonly operation: number; readonly waitsFor: number; readonly span: number }[] {
    const { size, durations } = this.network;
    let at = 0;
    while (at < size && this.starts[at]! + durations[at]! < this.makespan) at += 1;
    const path = [];
    while (at >= 0 && at < size) {
      const reason = this.reasonOf(at, orders);
      path.push({ operation: at, waitsFor: reason.waitsFor, span: reason.span });
      at = reason.from;
    }
    return path.reverse();
  }

  private reasonOf(to: number, orders: SpanOrders): { from: number; waitsFor: number; span: number } {
    const { before, last } = this.network;
    const start = this.starts[to]!;
    if (start === 0) return { from: -1, waitsFor: -1, span: -1 };
    for (let k = before.start[to]!; k < before.start[to + 1]!; k += 1) {
      const from = before.other[k]!;
      if (this.starts[from]! + before.lag[k]! === start) return { from, waitsFor: -1, span: -1 };
    }
    for (const span of this.spansBeginning[to]!) {
      const order = orders[this.resourceOf[span]!]!;
      for (let i = this.place[span]! - 1; i >= 0; i -= 1) {
        const waitsFor = order[i]!;
        if (this.starts[last[waitsFor]!]! + this.lag(waitsFor, span) === start)
          return { from: last[waitsFor]!, waitsFor, span };
      }
    }
    throw new RangeError(`Nothing fixes the start of operation ${to}.`);
  }

  private lag(span: number, next: number): number {
    const { durations, last, resources } = this.network;
    const setups = resources[this.resourceOf[span]!]!.setups;
    return durations[last[span]!]! + (setups?.[this.indexOf[span]!]![this.indexOf[next]!] ?? 0);
  }

  private arcsInto(operation: number): number {
    let arcs = 0;
    for (const span of this.spansBeginning[operation]!) {
      const place = this.place[span]!;
      arcs += this.network.resources[this.resourceOf[span]!]!.setups ? place : Math.min(place, 1);
    }
    return arcs;
  }

  private passOn(from: number, orders: SpanOrders, count: number): number {
    const { first, resources } = this.network;
    const { starts, missing, sequence } = this;
    for (const span of this.spansEnding[from]!) {
      const order = orders[this.resourceOf[span]!]!;
      const setups = resources[this.resourceOf[span]!]!.setups;
      const until = setups ? order.length : Math.min(order.length, this.place[span]! + 2);
      for (let i = this.place[span]! + 1; i < until; i += 1) {
        const next = order[i]!;
        const to = first[next]!;
        starts[to] = Math.max(starts[to]!, starts[from]! + this.lag(span, next));
        if ((missing[to]! -= 1) === 0) sequence[count++] = to;
      }
    }
    return count;
  }
}

function spansAt(size: number, operations: Int32Array): Int32Array[] {
  const lists = Array.from({ length: size }, (): number[] => []);
  operations.forEach((operation, span) => lists[operation]!.push(span));
  return lists.map((list) => Int32Array.from(list));
}
