import { compareCost } from './cost.js';
import type { Frontier } from './frontier.js';
import { Heap } from './heap.js';
import type { SearchCounters } from './problem.js';
import type { SearchNode, StateEntry } from './search-node.js';

const byCost = <S, T>(a: SearchNode<S, T>, b: SearchNode<S, T>): number =>
  compareCost(a.g, b.g) || a.order - b.order;

/**
 * Compares the paths that reach equal states. The cheapest living one, the champion, goes on; the others are
 * parked behind it, because a whole path may yet be refused or cost more than its moves. Where neither can
 * happen (`parking` false) they are dropped.
 */
export class Dominance<State, Step> {
  /** Per layer: key to what is known of the state. */
  readonly entries: Map<string, StateEntry<State, Step>>[] = [];

  constructor(
    layers: number,
    private readonly parking: boolean,
    private readonly frontier: Frontier<State, Step>,
    private readonly counters: SearchCounters,
  ) {
    for (let layer = 0; layer < layers; layer += 1) this.entries.push(new Map());
  }

  entryOf(layer: number, key: string): StateEntry<State, Step> {
    const known = this.entries[layer]!.get(key);
    if (known !== undefined) return known;
    const entry: StateEntry<State, Step> = {
      members: [],
      heirs: new Heap(byCost),
      champion: undefined,
      toGo: undefined,
    };
    this.entries[layer]!.set(key, entry);
    return entry;
  }

  /** Opens a newly made node or sets it aside. */
  admit(node: SearchNode<State, Step>, entry: StateEntry<State, Step>): void {
    const { champion } = entry;
    if (champion !== undefined && compareCost(champion.g, node.g) <= 0) {
      this.counters.dominated += 1;
      if (this.parking) this.join(node, entry);
      this.setAside(node);
      return;
    }
    if (champion?.status === 'open') {
      this.counters.dominated += 1;
      this.setAside(champion);
    }
    this.join(node, entry);
    entry.champion = node;
    this.frontier.open(node);
  }

  /** Chooses a new champion for a state whose champion has died, if any member still lives. */
  succeed(entry: StateEntry<State, Step>): void {
    const { heirs } = entry;
    while (heirs.peek()?.status === 'dead') heirs.pop();
    const heir = heirs.peek();
    entry.champion = heir;
    if (heir?.status === 'parked') this.release(heir);
  }

  release(node: SearchNode<State, Step>): void {
    this.counters.released += 1;
    this.frontier.open(node);
  }

  private join(node: SearchNode<State, Step>, entry: StateEntry<State, Step>): void {
    node.entry = entry;
    if (!this.parking) return;
    entry.members.push(node);
    entry.heirs.push(node);
  }

  private setAside(node: SearchNode<State, Step>): void {
    if (this.parking) this.frontier.park(node);
    else this.frontier.leave(node, 'superseded');
  }
}
