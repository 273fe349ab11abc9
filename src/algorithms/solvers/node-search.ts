import { addRows, compareRows, copyRow, costOfRow, raiseRow } from './cost-rows.js';
import { NodeMemory } from './node-memory.js';
import { CLOSED, GONE, NONE, OPEN } from './node-store.js';
import type { OpenList } from './open-list.js';
import { NO_TRAIL } from './path-trail.js';
import type { SolverRun } from './solver-run.js';

/** The move that led to the start, and the trail of a state that has no follower yet. */
const NO_MOVE = -1;
const NO_PLACE = -2;

/**
 * What every search over states shares, whatever the order in which it takes them: an open state is expanded, its
 * followers are compared with what stands for them already, bounded, and opened. No state is expanded twice at the same
 * cost as long as memory lasts.
 */
export class NodeSearch {
  readonly memory: NodeMemory;
  private readonly terms: number;
  private readonly keyWords: number;
  private readonly groupWords: number;
  private readonly moves: Int32Array;
  /** The state that is expanded, its costs, and its place in the trail. */
  private readonly state: Uint32Array;
  private readonly g: Float64Array;
  private readonly f: Float64Array;
  private place = NO_PLACE;
  /** The follower that is looked at, and its costs. */
  private readonly child: Uint32Array;
  private readonly childG: Float64Array;
  private readonly childF: Float64Array;
  private readonly other: Uint32Array;
  private readonly surcharge: Float64Array;
  private made = 0;

  constructor(
    readonly run: SolverRun,
    lists: 'by-layer' | 'one',
  ) {
    const { words, keyWords, terms, moves, dominance } = run.problem;
    this.terms = terms;
    this.keyWords = keyWords;
    this.groupWords = dominance?.words ?? keyWords;
    this.memory = new NodeMemory(run, { words, groupWords: this.groupWords, terms }, lists);
    this.moves = new Int32Array(moves);
    this.state = new Uint32Array(words);
    this.child = new Uint32Array(words);
    this.other = new Uint32Array(words);
    this.g = new Float64Array(terms);
    this.f = new Float64Array(terms);
    this.childG = new Float64Array(terms);
    this.childF = new Float64Array(terms);
    this.surcharge = new Float64Array(terms);
    this.openStart();
  }

  /**
   * The best node of a list that is worth expanding, still in the list, or NONE. What it finds hopeless is pruned, and
   * bounds older than the last sharpening are worked out again.
   */
  next(list: OpenList): number {
    const { memory, run } = this;
    memory.makeRoom();
    for (;;) {
      const top = list.peek();
      if (top === NONE) return NONE;
      if (run.hopeless(memory.store.f, top * this.terms)) this.pruneAll(list);
      else if (memory.store.stamp[top] === run.sharpened || !this.raised(top)) return top;
      else {
        list.pop();
        if (run.hopeless(memory.store.f, top * this.terms)) memory.prune(top);
        else list.push(top);
      }
    }
  }

  /** True while an open node may still beat the best path. */
  hasOpen(): boolean {
    return this.memory.lists.some((list) => this.next(list) !== NONE);
  }

  /** Takes the node that `next` has found out of its list and opens its followers. */
  expand(list: OpenList): void {
    const { store } = this.memory;
    const { problem, counters } = this.run;
    const node = list.pop();
    store.read(node, this.state);
    copyRow(store.g, node * this.terms, this.g, 0, this.terms);
    copyRow(store.f, node * this.terms, this.f, 0, this.terms);
    store.status[node] = CLOSED;
    this.place = NO_PLACE;
    const layer = store.layer[node]! + 1;
    counters.expanded += 1;
    const count = problem.movesFrom(this.state, this.moves);
    for (let i = 0; i < count; i += 1) {
      const move = this.moves[i]!;
      problem.follow(this.state, move, this.child, this.childG);
      counters.generated += 1;
      addRows(this.g, 0, this.childG, 0, this.childG, 0, this.terms);
      if (layer === problem.layers) this.reach(node, move);
      else this.admit(node, move, layer);
    }
  }

  private openStart(): void {
    const { problem } = this.run;
    problem.start(this.child);
    problem.bound(this.child, 0, this.childF);
    if (this.run.hopeless(this.childF, 0)) this.run.counters.pruned += 1;
    else if (problem.layers === 0) this.run.meet([], costOfRow(this.childG, 0, this.terms));
    else this.open(0, this.memory.store.hashOf(this.child, 0), NO_TRAIL, NO_MOVE);
  }

  /** The last layer: a whole path. */
  private reach(node: number, move: number): void {
    const { run, memory } = this;
    if (run.hopeless(this.childG, 0)) {
      run.counters.pruned += 1;
      return;
    }
    const steps = memory.trail.movesTo(this.placeOf(node));
    run.meet([...steps, move], costOfRow(this.childG, 0, this.terms));
  }

  private admit(node: number, move: number, layer: number): void {
    const { run, memory } = this;
    const hash = memory.store.hashOf(this.child, layer);
    if (this.isDominated(layer, hash)) {
      run.counters.dominated += 1;
      return;
    }
    run.problem.bound(this.child, layer, this.childF);
    addRows(this.childG, 0, this.childF, 0, this.childF, 0, this.terms);
    raiseRow(this.childF, 0, this.f, 0, this.terms);
    if (run.hopeless(this.childF, 0)) {
      run.counters.pruned += 1;
      return;
    }
    this.supersede(layer, hash);
    this.open(layer, hash, this.placeOf(node), move);
  }

  private open(layer: number, hash: number, from: number, move: number): void {
    const { memory, terms } = this;
    const { store } = memory;
    const node = store.add(this.child, layer, hash);
    copyRow(this.childG, 0, store.g, node * terms, terms);
    copyRow(this.childF, 0, store.f, node * terms, terms);
    store.from[node] = from;
    store.move[node] = move;
    store.made[node] = this.made;
    store.stamp[node] = this.run.sharpened;
    this.made += 1;
    memory.listOf(layer).push(node);
  }

  /** The place in the trail of the state that is expanded; made when its first follower needs it. */
  private placeOf(node: number): number {
    const { store, trail } = this.memory;
    if (this.place !== NO_PLACE) return this.place;
    const move = store.move[node]!;
    this.place = move === NO_MOVE ? NO_TRAIL : trail.add(store.from[node]!, move);
    return this.place;
  }

  /** Whether a node does all that the follower can do, at no more cost. */
  private isDominated(layer: number, hash: number): boolean {
    const { store } = this.memory;
    const { child, terms } = this;
    let node = store.firstAlike(child, layer, hash);
    for (; node !== NONE; node = store.nextAlike(node, child, layer, hash)) {
      if (store.agrees(node, child, this.groupWords, this.keyWords)) {
        if (compareRows(store.g, node * terms, this.childG, 0, terms) <= 0) return true;
      } else if (this.covers(node)) return true;
    }
    return false;
  }

  private covers(node: number): boolean {
    const { terms, surcharge, memory } = this;
    memory.store.read(node, this.other);
    this.run.problem.dominance!.surcharge(this.other, this.child, surcharge);
    if (surcharge[0] === Infinity) return false;
    addRows(surcharge, 0, memory.store.g, node * terms, surcharge, 0, terms);
    return compareRows(surcharge, 0, this.childG, 0, terms) <= 0;
  }

  /** Sets aside the nodes that the follower makes superfluous. Equal states cost more, or it would be dominated. */
  private supersede(layer: number, hash: number): void {
    const { store } = this.memory;
    const { child } = this;
    let node = store.firstAlike(child, layer, hash);
    while (node !== NONE) {
      const following = store.nextAlike(node, child, layer, hash);
      if (store.agrees(node, child, this.groupWords, this.keyWords)) this.setAside(node);
      else if (store.status[node] === OPEN && this.isCovered(node)) this.setAside(node);
      node = following;
    }
  }

  private isCovered(node: number): boolean {
    const { terms, surcharge, memory } = this;
    memory.store.read(node, this.other);
    this.run.problem.dominance!.surcharge(this.child, this.other, surcharge);
    if (surcharge[0] === Infinity) return false;
    addRows(surcharge, 0, this.childG, 0, surcharge, 0, terms);
    return compareRows(surcharge, 0, memory.store.g, node * terms, terms) <= 0;
  }

  private setAside(node: number): void {
    const { store } = this.memory;
    store.leaveTable(node);
    if (store.status[node] === OPEN) {
      this.run.counters.dominated += 1;
      store.status[node] = GONE;
    } else store.free(node);
  }

  /** Works out the bound again after a sharpening; whether it is higher now. */
  private raised(node: number): boolean {
    const { terms, run } = this;
    const { store } = this.memory;
    store.stamp[node] = run.sharpened;
    store.read(node, this.other);
    run.problem.bound(this.other, store.layer[node]!, this.childF);
    addRows(this.childF, 0, store.g, node * terms, this.childF, 0, terms);
    if (compareRows(this.childF, 0, store.f, node * terms, terms) <= 0) return false;
    copyRow(this.childF, 0, store.f, node * terms, terms);
    return true;
  }

  private pruneAll(list: OpenList): void {
    const { store } = this.memory;
    for (const node of list.drain()) {
      if (store.status[node] === OPEN) this.memory.prune(node);
      else store.free(node);
    }
  }
}
