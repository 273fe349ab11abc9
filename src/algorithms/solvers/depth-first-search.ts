import type { SearchCounters } from '../problem.js';
import type { Budget } from '../../base/budget.js';
import { addRows, compareRows, copyRow, lowerRow, unreachableRow, type CostRows } from './cost-rows.js';
import type { PackedProblem } from './packed-problem.js';
import { VisitedStates } from './visited-states.js';
import { boundOfStart } from './walked-path.js';

/** Why a search went no further; `exhausted`: nothing is left that could cost less than the cut-off. */
export type DepthFirstEnd = 'exhausted' | 'budget' | 'whole-path';

export interface DepthFirstOptions {
  readonly budget: Budget;
  readonly memory: number;
  readonly counters: SearchCounters;
  /** Only paths that cost less are of interest; lowered in place by whoever takes the paths. */
  readonly cutoff: CostRows;
  /** Takes a whole path that costs less than the cut-off; true ends the search. */
  readonly onPath: (moves: readonly number[], cost: CostRows) => boolean;
  /** Brings the children, cheapest first, into another order. */
  readonly reorder?: (children: number[]) => void;
}

const FIRST_NODES = 256;

/**
 * Goes down the cheapest child by g + bound first (of equal ones the move that comes first) and backs up.
 * What waits lies on a stack in typed arrays, what was explored in a table that forgets when it is full;
 * each takes half of the memory. When the stack is full the worst children are dropped and remembered in
 * `openBound`.
 */
export class DepthFirstSearch {
  private readonly visited: VisitedStates;
  private readonly stack: NodeStack;
  private readonly dropped: CostRows;
  private readonly path: Int32Array;
  private readonly state: Uint32Array;
  private readonly child: ChildRows;
  private readonly g: CostRows;

  constructor(
    private readonly problem: PackedProblem,
    private readonly options: DepthFirstOptions,
  ) {
    const { terms, words, layers } = problem;
    this.visited = new VisitedStates(problem, options.memory / 2);
    this.stack = new NodeStack(words, terms, options.memory / 2);
    this.dropped = unreachableRow(terms);
    this.path = new Int32Array(layers);
    this.state = new Uint32Array(words);
    this.g = new Float64Array(terms);
    this.child = new ChildRows(problem);
  }

  run(): DepthFirstEnd {
    const { problem, stack, options } = this;
    this.pushStart();
    while (stack.size > 0) {
      const top = stack.size - 1;
      const layer = stack.layers[top]!;
      if (compareRows(stack.f, top * problem.terms, options.cutoff, 0, problem.terms) >= 0) {
        stack.size = top;
        options.counters.pruned += 1;
        continue;
      }
      if (layer > 0) this.path[layer - 1] = stack.moves[top]!;
      if (layer === problem.layers) {
        stack.size = top;
        copyRow(stack.g, top * problem.terms, this.g, 0, problem.terms);
        if (options.onPath(Array.from(this.path), this.g)) return 'whole-path';
      } else if (!this.expandTop(top, layer)) return 'budget';
    }
    return 'exhausted';
  }

  /** No path that was not handed over costs less than this, or it costs no less than the cut-off. */
  openBound(): CostRows {
    const { terms } = this.problem;
    const bound = this.dropped.slice();
    for (let at = 0; at < this.stack.size; at += 1) lowerRow(bound, 0, this.stack.f, at * terms, terms);
    return bound;
  }

  private pushStart(): void {
    const { problem, stack } = this;
    stack.reserve(1);
    problem.start(this.state);
    const bound = boundOfStart(problem);
    if (bound[0] !== Infinity) stack.push(this.state, 0, -1, this.g, 0, bound, 0);
  }

  /** False when the budget does not allow it; the node is then still on the stack. */
  private expandTop(top: number, layer: number): boolean {
    const { problem, stack, options, state, child } = this;
    const { terms, words } = problem;
    for (let i = 0; i < words; i += 1) state[i] = stack.states[top * words + i]!;
    copyRow(stack.g, top * terms, this.g, 0, terms);
    if (options.budget.exhaustedBy() !== undefined) return false;
    if (this.visited.covers(state, layer, this.g)) {
      stack.size = top;
      options.counters.dominated += 1;
      return true;
    }
    options.budget.take();
    options.counters.expanded += 1;
    stack.size = top;
    child.make(state, layer, this.g, stack.f, top * terms);
    options.counters.generated += child.made;
    const order = child.promising(options.cutoff);
    options.counters.pruned += child.made - order.length;
    options.reorder?.(order);
    this.pushChildren(order, layer + 1);
    return true;
  }

  private pushChildren(order: readonly number[], layer: number): void {
    const { stack, child, options } = this;
    const { terms } = this.problem;
    const room = stack.reserve(order.length);
    for (let i = order.length - 1; i >= 0; i -= 1) {
      const index = order[i]!;
      if (i >= room) {
        lowerRow(this.dropped, 0, child.f, index * terms, terms);
        options.counters.dropped += 1;
      } else
        stack.push(
          child.stateOf(index),
          layer,
          child.moves[index]!,
          child.g,
          index * terms,
          child.f,
          index * terms,
        );
    }
  }
}

/** The children of one state, in the order of their moves. */
class ChildRows {
  made = 0;
  readonly moves: Int32Array;
  readonly g: CostRows;
  readonly f: CostRows;
  private readonly rows: Uint32Array[] = [];
  private readonly cost: CostRows;

  constructor(private readonly problem: PackedProblem) {
    const { moves, terms } = problem;
    this.moves = new Int32Array(moves);
    this.g = new Float64Array(Math.max(1, moves) * terms);
    this.f = new Float64Array(Math.max(1, moves) * terms);
    this.cost = new Float64Array(terms);
  }

  stateOf(index: number): Uint32Array {
    while (this.rows.length <= index) this.rows.push(new Uint32Array(this.problem.words));
    return this.rows[index]!;
  }

  /** @param parentF rows of what no completion of the parent costs less than, its own at `at` */
  make(state: Uint32Array, layer: number, parentG: CostRows, parentF: CostRows, at: number): void {
    const { problem, g, f, cost } = this;
    const { terms } = problem;
    this.made = problem.movesFrom(state, this.moves);
    for (let index = 0; index < this.made; index += 1) {
      const to = this.stateOf(index);
      const row = index * terms;
      problem.follow(state, this.moves[index]!, to, cost);
      addRows(parentG, 0, cost, 0, g, row, terms);
      if (layer + 1 === problem.layers) cost.fill(0);
      else problem.bound(to, layer + 1, cost);
      addRows(g, row, cost, 0, f, row, terms);
      if (compareRows(f, row, parentF, at, terms) < 0) copyRow(parentF, at, f, row, terms);
    }
  }

  /** Those that may cost less than the cut-off, cheapest first. */
  promising(cutoff: CostRows): number[] {
    const { f } = this;
    const { terms } = this.problem;
    const order: number[] = [];
    for (let index = 0; index < this.made; index += 1)
      if (f[index * terms] !== Infinity && compareRows(f, index * terms, cutoff, 0, terms) < 0)
        order.push(index);
    return order.sort((a, b) => compareRows(f, a * terms, f, b * terms, terms) || a - b);
  }
}

class NodeStack {
  size = 0;
  states: Uint32Array;
  layers: Int32Array;
  moves: Int32Array;
  g: CostRows;
  f: CostRows;
  private room: number;
  private most: number;

  constructor(
    private readonly words: number,
    private readonly terms: number,
    bytes: number,
  ) {
    this.most = Math.max(1, Math.floor(bytes / (4 * words + 16 * terms + 8)));
    this.room = Math.min(FIRST_NODES, this.most);
    this.states = new Uint32Array(this.room * words);
    this.layers = new Int32Array(this.room);
    this.moves = new Int32Array(this.room);
    this.g = new Float64Array(this.room * terms);
    this.f = new Float64Array(this.room * terms);
  }

  /** Makes room for more nodes, if there may be any; how many of them may be pushed. */
  reserve(more: number): number {
    while (this.size + more > this.room && this.room < this.most) {
      if (!this.grow(Math.min(2 * this.room, this.most))) break;
    }
    return Math.min(more, this.room - this.size);
  }

  push(
    state: Uint32Array,
    layer: number,
    move: number,
    g: CostRows,
    gt: number,
    f: CostRows,
    ft: number,
  ): void {
    const at = this.size;
    for (let i = 0; i < this.words; i += 1) this.states[at * this.words + i] = state[i]!;
    this.layers[at] = layer;
    this.moves[at] = move;
    copyRow(g, gt, this.g, at * this.terms, this.terms);
    copyRow(f, ft, this.f, at * this.terms, this.terms);
    this.size += 1;
  }

  /** False where the machine has no room for so many, and then never again. */
  private grow(room: number): boolean {
    const { states, layers, moves, g, f } = this;
    try {
      const larger = {
        states: new Uint32Array(room * this.words),
        layers: new Int32Array(room),
        moves: new Int32Array(room),
        g: new Float64Array(room * this.terms),
        f: new Float64Array(room * this.terms),
      };
      larger.states.set(states);
      larger.layers.set(layers);
      larger.moves.set(moves);
      larger.g.set(g);
      larger.f.set(f);
      Object.assign(this, larger);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.most = this.room;
      return false;
    }
    this.room = room;
    return true;
  }
}
