import { compareCost, earlierCost, type Cost } from './cost.js';
import { Heap } from './heap.js';
import type { SearchCounters } from './problem.js';
import type { NodeStatus, SearchNode } from './search-node.js';

const byBound = <S, T>(a: SearchNode<S, T>, b: SearchNode<S, T>): number =>
  compareCost(a.f, b.f) || a.order - b.order;

/**
 * The nodes that wait, layer by layer: open ones in a heap by bound, parked ones in a set. A node that leaves
 * `open` stays in its heap until it comes to the top, where its status tells that it is gone.
 */
export class Frontier<State, Step> {
  private readonly heaps: Heap<SearchNode<State, Step>>[] = [];
  private readonly openCount: number[] = [];
  private readonly parked: Set<SearchNode<State, Step>>[] = [];
  private waiting = 0;
  /** Cost of the best path so far: only nodes with a lesser bound are worth keeping. */
  cutoff: Cost | undefined;
  /** Least bound among the nodes lost to the memory cap. */
  droppedBound: Cost | undefined;

  constructor(
    layers: number,
    private readonly maxNodes: number,
    private readonly counters: SearchCounters,
  ) {
    for (let layer = 0; layer <= layers; layer += 1) {
      this.heaps.push(new Heap(byBound));
      this.openCount.push(0);
      this.parked.push(new Set());
    }
  }

  /** How many nodes wait, open or parked. */
  get count(): number {
    return this.waiting;
  }

  open(node: SearchNode<State, Step>): void {
    this.leave(node, 'open');
    this.openCount[node.layer]! += 1;
    this.waiting += 1;
    this.heaps[node.layer]!.push(node);
  }

  park(node: SearchNode<State, Step>): void {
    this.leave(node, 'parked');
    this.parked[node.layer]!.add(node);
    this.waiting += 1;
  }

  /** Takes the node out, for good or until it is opened again. */
  leave(node: SearchNode<State, Step>, status: NodeStatus): void {
    if (node.status === 'open') {
      this.openCount[node.layer]! -= 1;
      this.waiting -= 1;
    } else if (node.status === 'parked') {
      this.parked[node.layer]!.delete(node);
      this.waiting -= 1;
    }
    node.status = status;
  }

  beaten(bound: Cost): boolean {
    return this.cutoff !== undefined && compareCost(bound, this.cutoff) >= 0;
  }

  /** The open node of the layer with the least bound; prunes the layer when even that is beaten. */
  best(layer: number): SearchNode<State, Step> | undefined {
    const heap = this.heaps[layer]!;
    while (heap.size > 0 && heap.peek()!.status !== 'open') heap.pop();
    const top = heap.peek();
    if (top === undefined || !this.beaten(top.f)) return top;
    for (const node of heap.drain()) if (node.status === 'open') this.prune(node);
    return undefined;
  }

  prune(node: SearchNode<State, Step>): void {
    this.counters.pruned += 1;
    this.leave(node, 'pruned');
  }

  /** True while an open node may still beat the best path. */
  hasOpen(): boolean {
    return this.heaps.some((_, layer) => this.best(layer) !== undefined);
  }

  *parkedNodes(): Iterable<SearchNode<State, Step>> {
    for (const layer of this.parked) yield* [...layer];
  }

  /** Least bound of the open and the dropped nodes; undefined when there are none. */
  lowestBound(): Cost | undefined {
    let lowest = this.droppedBound;
    this.heaps.forEach((_, layer) => {
      const top = this.best(layer);
      if (top !== undefined) lowest = lowest === undefined ? top.f : earlierCost(lowest, top.f);
    });
    return lowest;
  }

  /** Keeps to the memory cap: the fullest layers lose the worse half of what waits in them. */
  trim(): void {
    if (this.waiting <= this.maxNodes) return;
    while (this.waiting > (3 * this.maxNodes) / 4) {
      const sizes = this.openCount.map((count, layer) => count + this.parked[layer]!.size);
      this.halve(sizes.indexOf(Math.max(...sizes)));
    }
  }

  private halve(layer: number): void {
    const open = this.heaps[layer]!.drain().filter((node) => node.status === 'open');
    const all = [...new Set([...open, ...this.parked[layer]!])].sort(byBound);
    const kept = Math.floor(all.length / 2);
    for (const node of all.slice(0, kept)) if (node.status === 'open') this.heaps[layer]!.push(node);
    for (const node of all.slice(kept)) this.drop(node);
  }

  private drop(node: SearchNode<State, Step>): void {
    if (this.beaten(node.f)) return this.prune(node);
    this.counters.dropped += 1;
    this.leave(node, 'dropped');
    this.droppedBound = this.droppedBound === undefined ? node.f : earlierCost(this.droppedBound, node.f);
  }
}
