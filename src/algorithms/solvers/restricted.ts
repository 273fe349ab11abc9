import type { Dominance, PackedProblem, StateRow } from './packed-problem.js';
import type { WalkedPath } from './walked-path.js';

/** Positions of a path, `to` not included. */
export interface PathWindow {
  readonly from: number;
  readonly to: number;
}

/**
 * A problem made from another one and a legal path of it: the moves before and after the window stay as they
 * are. In the window a move is legal if its item is freed, or is the next not-freed item of the path; items
 * may be done in any of their ways. With nothing freed it chooses the best ways in a fixed order; with all
 * freed and no narrower window it is the problem itself.
 *
 * Costs are those from the beginning of the window to the end of the path: the last move of the window
 * includes what the fixed moves behind it cost from there, and is legal only if they are.
 *
 * A state has one word more, the first: how many not-freed items of the window are done, and above that how
 * many moves. It is part of the key, since equal keys of the whole problem may stand for different sets of
 * done items.
 *
 * Dominance is passed on where no fixed moves follow. That takes for granted that what dominates goes on
 * with the same items in the same order, as it does where states differ in tools, places or ways alone.
 *
 * @param freed 1 for every item that may be done anywhere in the window; those outside of it stay fixed
 */
export function restrictedProblem(
  problem: PackedProblem,
  path: WalkedPath,
  freed: Uint8Array,
  window: PathWindow = { from: 0, to: problem.layers },
): PackedProblem {
  return new RestrictedProblem(problem, path, freed, window);
}

const OUTSIDE = 0;
const FREED = 1;
const FIXED = 2;
/** Moves done are counted in the upper half of the first word. */
const ONE_MOVE = 0x10000;

class RestrictedProblem implements PackedProblem {
  readonly terms: number;
  readonly layers: number;
  readonly items: number;
  readonly moves: number;
  readonly words: number;
  readonly keyWords: number;
  readonly dominance?: Dominance;
  /** What each item is to the window. */
  private readonly roles: Uint8Array;
  private readonly fixedItems: number[] = [];
  private readonly inner: Uint32Array;
  private readonly innerTo: Uint32Array;
  private readonly rejoin: Rejoin | undefined;

  constructor(
    private readonly problem: PackedProblem,
    private readonly path: WalkedPath,
    freed: Uint8Array,
    private readonly window: PathWindow,
  ) {
    ({ terms: this.terms, items: this.items, moves: this.moves } = problem);
    this.layers = window.to - window.from;
    this.words = problem.words + 1;
    this.keyWords = problem.keyWords + 1;
    this.roles = new Uint8Array(problem.items);
    this.inner = new Uint32Array(problem.words);
    this.innerTo = new Uint32Array(problem.words);
    for (const move of path.moves.slice(window.from, window.to)) {
      const item = problem.itemOf(move);
      this.roles[item] = freed[item] === 1 ? FREED : FIXED;
      if (freed[item] !== 1) this.fixedItems.push(item);
    }
    if (window.to < problem.layers) this.rejoin = new Rejoin(problem, path, window.to);
    else if (problem.dominance) this.dominance = restrictedDominance(problem.dominance, problem.words);
  }

  itemOf(move: number): number {
    return this.problem.itemOf(move);
  }

  start(state: StateRow): void {
    const { words } = this.problem;
    state[0] = 0;
    for (let i = 0; i < words; i += 1) state[i + 1] = this.path.states[this.window.from * words + i]!;
  }

  movesFrom(state: StateRow, into: Int32Array): number {
    const { problem, inner, roles, rejoin } = this;
    innerOf(state, inner);
    const all = problem.movesFrom(inner, into);
    const next = this.fixedItems[state[0]! % ONE_MOVE];
    const last = rejoin !== undefined && this.isLast(state);
    let count = 0;
    for (let i = 0; i < all; i += 1) {
      const move = into[i]!;
      const item = problem.itemOf(move);
      if (roles[item] === OUTSIDE || (roles[item] === FIXED && item !== next)) continue;
      if (last && !rejoin.costAfter(inner, move)) continue;
      into[count] = move;
      count += 1;
    }
    return count;
  }

  follow(state: StateRow, move: number, to: StateRow, cost: Float64Array): void {
    const { problem, inner, innerTo, rejoin } = this;
    innerOf(state, inner);
    to[0] = state[0]! + ONE_MOVE + (this.roles[problem.itemOf(move)] === FIXED ? 1 : 0);
    problem.follow(inner, move, innerTo, cost);
    for (let i = 0; i < innerTo.length; i += 1) to[i + 1] = innerTo[i]!;
    if (rejoin === undefined || !this.isLast(state)) return;
    if (rejoin.costAfter(inner, move)) cost.set(rejoin.cost);
  }

  bound(state: StateRow, layer: number, into: Float64Array): void {
    if (layer === this.layers) return void into.fill(0);
    innerOf(state, this.inner);
    this.problem.bound(this.inner, layer + this.window.from, into);
  }

  private isLast(state: StateRow): boolean {
    return Math.floor(state[0]! / ONE_MOVE) === this.layers - 1;
  }
}

/**
 * The fixed moves behind a window, walked until a state of the path is met, from where all costs are known.
 */
class Rejoin {
  /** Of the last move of the window and all that are fixed behind it. */
  readonly cost: Float64Array;
  private readonly one: Float64Array;
  private readonly legal: Int32Array;
  private at: Uint32Array;
  private to: Uint32Array;

  constructor(
    private readonly problem: PackedProblem,
    private readonly path: WalkedPath,
    private readonly end: number,
  ) {
    this.cost = new Float64Array(problem.terms);
    this.one = new Float64Array(problem.terms);
    this.legal = new Int32Array(problem.moves);
    this.at = new Uint32Array(problem.words);
    this.to = new Uint32Array(problem.words);
  }

  /**
   * Works out `cost` for the last move of the window; false where the fixed moves behind it are not legal
   * then.
   */
  costAfter(state: StateRow, lastMove: number): boolean {
    const { problem, path, cost } = this;
    problem.follow(state, lastMove, this.at, cost);
    for (let layer = this.end; !this.isOnPath(layer); layer += 1) {
      const move = path.moves[layer]!;
      const count = problem.movesFrom(this.at, this.legal);
      if (!this.legal.subarray(0, count).includes(move)) return false;
      problem.follow(this.at, move, this.to, this.one);
      [this.at, this.to] = [this.to, this.at];
      for (let term = 0; term < cost.length; term += 1) cost[term]! += this.one[term]!;
    }
    return true;
  }

  /** Whether the state is that of the path; if so, the rest of the path is added to the cost. */
  private isOnPath(layer: number): boolean {
    const { problem, path, cost, at } = this;
    if (layer < problem.layers)
      for (let i = 0; i < problem.keyWords; i += 1)
        if (at[i] !== path.states[layer * problem.words + i]) return false;
    for (let term = 0; term < cost.length; term += 1)
      cost[term]! +=
        path.costs[problem.layers * cost.length + term]! - path.costs[layer * cost.length + term]!;
    return true;
  }
}

function restrictedDominance(dominance: Dominance, words: number): Dominance {
  const [a, b] = [new Uint32Array(words), new Uint32Array(words)];
  return {
    words: dominance.words + 1,
    surcharge: (stateA, stateB, into) => {
      innerOf(stateA, a);
      innerOf(stateB, b);
      dominance.surcharge(a, b, into);
    },
  };
}

/** The state of the whole problem. */
function innerOf(state: StateRow, inner: Uint32Array): void {
  for (let i = 0; i < inner.length; i += 1) inner[i] = state[i + 1]!;
}
