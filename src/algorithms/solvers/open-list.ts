import { compareRows } from './cost-rows.js';
import { GONE, NONE, OPEN, type NodeStore } from './node-store.js';

const FIRST_PLACES = 16;

/**
 * Nodes that wait to be expanded, the one with the least bound on top: a binary heap of node numbers. Of equal bounds the
 * deeper layer comes first, then the node made earlier. A node that has gone stays until it comes to the top.
 */
export class OpenList {
  private nodes = new Int32Array(FIRST_PLACES);
  private count = 0;

  constructor(private readonly store: NodeStore) {}

  get size(): number {
    return this.count;
  }

  push(node: number): void {
    if (this.count === this.nodes.length) this.resize(2 * this.count);
    this.count += 1;
    this.rise(this.count - 1, node);
  }

  /** The open node on top, or NONE; those gone that lie above it give their slots back. */
  peek(): number {
    const { store } = this;
    while (this.count > 0) {
      const top = this.nodes[0]!;
      if (store.status[top] === OPEN) return top;
      this.pop();
      store.free(top);
    }
    return NONE;
  }

  /** Takes the top out. Only of a list that is not empty. */
  pop(): number {
    const top = this.nodes[0]!;
    this.count -= 1;
    const last = this.nodes[this.count]!;
    if (this.count > 0) this.sink(0, last);
    if (this.count < this.nodes.length / 4 && this.nodes.length > FIRST_PLACES)
      this.resize(this.nodes.length / 2);
    return top;
  }

  /** Nodes that have gone give their slots back. */
  purge(): void {
    const { store } = this;
    const open = this.nodes.slice(0, this.count).filter((node) => store.status[node] === OPEN);
    if (open.length === this.count) return;
    for (const node of this.nodes.subarray(0, this.count)) if (store.status[node] === GONE) store.free(node);
    this.refill(open);
  }

  /** Takes the worse half of the nodes out, more than half where they are odd. */
  worseHalf(): Int32Array {
    const all = this.nodes.slice(0, this.count);
    const kept = all.length >> 1;
    selectFirst(all, kept, (a, b) => this.order(a, b));
    this.refill(all.subarray(0, kept));
    return all.subarray(kept);
  }

  /** Takes all nodes out, in no particular order. */
  drain(): Int32Array {
    const all = this.nodes.slice(0, this.count);
    this.refill(new Int32Array(0));
    return all;
  }

  private refill(nodes: Int32Array): void {
    let places = FIRST_PLACES;
    while (places < nodes.length) places *= 2;
    this.nodes = new Int32Array(places);
    this.nodes.set(nodes);
    this.count = nodes.length;
    for (let at = (this.count >> 1) - 1; at >= 0; at -= 1) this.sink(at, this.nodes[at]!);
  }

  private resize(places: number): void {
    const nodes = new Int32Array(places);
    nodes.set(this.nodes.subarray(0, this.count));
    this.nodes = nodes;
  }

  /** Negative when `a` comes before `b`; never 0 for different nodes. */
  private order(a: number, b: number): number {
    const { f, layer, made, shape } = this.store;
    const { terms } = shape;
    return (
      compareRows(f, a * terms, f, b * terms, terms) || layer[b]! - layer[a]! || made[a]! - made[b]! || a - b
    );
  }

  private rise(start: number, node: number): void {
    const { nodes } = this;
    let at = start;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (this.order(nodes[parent]!, node) <= 0) break;
      nodes[at] = nodes[parent]!;
      at = parent;
    }
    nodes[at] = node;
  }

  /** Puts the node into a place that was taken out, or below it. */
  private sink(start: number, node: number): void {
    const { nodes, count } = this;
    let at = start;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= count) break;
      if (child + 1 < count && this.order(nodes[child + 1]!, nodes[child]!) < 0) child += 1;
      if (this.order(node, nodes[child]!) <= 0) break;
      nodes[at] = nodes[child]!;
      at = child;
    }
    nodes[at] = node;
  }
}

/**
 * Brings the `count` first of the numbers by `order`, which knows no ties, to the front, in no particular order (quickselect,
 * Hoare 1961; the pivot is the middle one of three).
 */
function selectFirst(numbers: Int32Array, count: number, order: (a: number, b: number) => number): void {
  let low = 0;
  let high = numbers.length - 1;
  while (low < high) {
    const pivot = middleOf(numbers[low]!, numbers[(low + high) >> 1]!, numbers[high]!, order);
    let i = low;
    let j = high;
    while (i <= j) {
      while (order(numbers[i]!, pivot) < 0) i += 1;
      while (order(numbers[j]!, pivot) > 0) j -= 1;
      if (i > j) break;
      [numbers[i], numbers[j]] = [numbers[j]!, numbers[i]!];
      i += 1;
      j -= 1;
    }
    if (count <= j) high = j;
    else if (count > i) low = i;
    else return;
  }
}

function middleOf(a: number, b: number, c: number, order: (a: number, b: number) => number): number {
  if (order(a, b) < 0) return order(b, c) < 0 ? b : order(a, c) < 0 ? c : a;
  return order(a, c) < 0 ? a : order(b, c) < 0 ? c : b;
}
