import { copyRow, lowerRow, unreachableRow, type CostRows } from './cost-rows.js';
import { bytesPerNode, CLOSED, NodeStore, OPEN, type NodeShape } from './node-store.js';
import { OpenList } from './open-list.js';
import { PathTrail } from './path-trail.js';
import type { SolverRun } from './solver-run.js';

/** Share of the memory that goes to the paths of expanded states; the rest goes to the nodes. */
const TRAIL_SHARE = 1 / 8;
const TRAIL_BYTES = 8;

/**
 * The nodes of a search and the paths to them, within `memory` bytes: the slots of the nodes, the table that finds them,
 * the lists in which they wait, and the trail. Rows that do not grow with the search are not counted, nor is what a
 * growing array and its successor take together for a moment. Room for one dive is never denied.
 *
 * When the room runs out, first the expanded states go that nothing open can meet again; then, as long as they are half of
 * the nodes, those of the deepest layers, where it costs least to expand one twice; else the worse half of the fullest
 * list is dropped, and `droppedBound` remembers the least bound among it.
 */
export class NodeMemory {
  readonly store: NodeStore;
  readonly trail: PathTrail;
  /** One for each layer, or one for all. */
  readonly lists: readonly OpenList[];
  /** Least bound of the nodes that were dropped. */
  readonly droppedBound: CostRows;
  /** Nodes that one expansion may add. */
  private readonly burst: number;

  constructor(
    private readonly run: SolverRun,
    shape: NodeShape,
    lists: 'by-layer' | 'one',
  ) {
    const { layers, moves, terms } = run.problem;
    const { memory } = run.options;
    this.burst = moves + 1;
    const slots = Math.floor(((1 - TRAIL_SHARE) * memory) / bytesPerNode(shape));
    const places = Math.floor((TRAIL_SHARE * memory) / TRAIL_BYTES);
    this.store = new NodeStore(shape, Math.max(slots, layers + 4 * this.burst));
    this.trail = new PathTrail(Math.min(Math.max(places, 4 * (layers + 1)), 2 ** 30));
    const count = lists === 'one' ? 1 : Math.max(1, layers);
    this.lists = Array.from({ length: count }, () => new OpenList(this.store));
    this.droppedBound = unreachableRow(terms);
  }

  listOf(layer: number): OpenList {
    return this.lists[this.lists.length === 1 ? 0 : layer]!;
  }

  /** Makes sure that a node can be expanded. */
  makeRoom(): void {
    const { store, trail } = this;
    if (!store.hasRoom(this.burst)) this.reclaim();
    if (!trail.full) return;
    this.compactTrail();
    while (4 * trail.size > 3 * trail.most && this.dropHalf()) this.compactTrail();
  }

  /** At most the cost of every path through an open or a dropped node. */
  lowestBound(): CostRows {
    const { terms } = this.store.shape;
    const lowest = new Float64Array(terms);
    copyRow(this.droppedBound, 0, lowest, 0, terms);
    for (const list of this.lists) {
      const top = list.peek();
      if (top >= 0) lowerRow(lowest, 0, this.store.f, top * terms, terms);
    }
    return lowest;
  }

  /** Takes a node out that is in no list any more, because its bound is hopeless. */
  prune(node: number): void {
    this.run.counters.pruned += 1;
    this.store.leaveTable(node);
    this.store.free(node);
  }

  private reclaim(): void {
    const { store } = this;
    for (const list of this.lists) list.purge();
    this.forgetClosed({ from: 0, to: this.firstOpenLayer() });
    const enough = (): boolean => 4 * store.size <= 3 * store.most && store.most - store.size >= this.burst;
    while (!enough()) {
      const closed = this.closedByLayer();
      const all = closed.reduce((sum, count) => sum + count, 0);
      if (2 * all < store.size || all === 0) this.dropHalf();
      else this.forgetClosed(deepestWith(closed, Math.min(all, store.most >> 2)));
    }
    store.hasRoom(this.burst);
  }

  /** Layer of the first open node; past the last one where there is none. */
  private firstOpenLayer(): number {
    const { store } = this;
    let first = this.run.problem.layers;
    for (let node = 0; node < store.end; node += 1)
      if (store.status[node] === OPEN) first = Math.min(first, store.layer[node]!);
    return first;
  }

  private closedByLayer(): number[] {
    const { store } = this;
    const counts = new Array<number>(this.run.problem.layers + 1).fill(0);
    for (let node = 0; node < store.end; node += 1)
      if (store.status[node] === CLOSED) counts[store.layer[node]!]! += 1;
    return counts;
  }

  /** Forgets the expanded states of some layers. */
  private forgetClosed(which: { readonly from: number; readonly to: number }): void {
    const { store } = this;
    for (let node = 0; node < store.end; node += 1) {
      const layer = store.layer[node]!;
      if (store.status[node] !== CLOSED || layer < which.from || layer > which.to) continue;
      store.leaveTable(node);
      store.free(node);
    }
  }

  /** Drops the worse half of the fullest list; false when nothing is open. */
  private dropHalf(): boolean {
    const fullest = this.lists.reduce((a, b) => (b.size > a.size ? b : a));
    if (fullest.size === 0) return false;
    for (const node of fullest.worseHalf()) this.drop(node);
    return true;
  }

  private drop(node: number): void {
    const { store, run } = this;
    const { terms } = store.shape;
    const at = node * terms;
    if (store.status[node] !== OPEN) return store.free(node);
    if (run.hopeless(store.f, at)) return this.prune(node);
    run.counters.dropped += 1;
    lowerRow(this.droppedBound, 0, store.f, at, terms);
    store.leaveTable(node);
    store.free(node);
  }

  private compactTrail(): void {
    const { store, trail } = this;
    const kept = new Int32Array(store.size);
    let count = 0;
    for (let node = 0; node < store.end; node += 1) {
      if (store.status[node] !== OPEN) continue;
      kept[count] = store.from[node]!;
      count += 1;
    }
    const renumbered = trail.compact(kept.subarray(0, count));
    for (let node = 0; node < store.end; node += 1)
      if (store.status[node] === OPEN && store.from[node]! >= 0)
        store.from[node] = renumbered[store.from[node]!]!;
  }
}

/** The deepest layers that together have so many. */
function deepestWith(counts: readonly number[], wanted: number): { from: number; to: number } {
  let from = counts.length;
  for (let sum = 0; sum < wanted && from > 0;) {
    from -= 1;
    sum += counts[from]!;
  }
  return { from, to: counts.length };
}
