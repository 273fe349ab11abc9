import type { Cost } from '../cost.js';

/** A state as the solvers keep it: `words` numbers of 32 bits. */
export type StateRow = Uint32Array;

/**
 * The order in which items are done, as a layered decision problem whose states are rows of 32-bit words, so that a
 * solver can look at millions of them: find the path of `layers` moves from the start whose cost is lexicographically
 * least. Every move does one item, and no path does an item twice. A move may be one of several ways of doing its item.
 *
 * All functions are deterministic and keep no state between calls but what `sharpen` changed. Rows that are handed in
 * are only read, and only during the call; rows that are written may be longer than is needed. Costs are whole numbers or
 * exact binary fractions whose sums are exact, so that equal costs are equal.
 */
export interface PackedProblem {
  /** Length of every cost vector, at least 1. */
  readonly terms: number;
  /** Moves of every whole path. */
  readonly layers: number;
  /** Items are numbered from 0. */
  readonly items: number;
  /** Moves are numbered from 0. */
  readonly moves: number;
  /** The item that a move does. */
  itemOf(move: number): number;
  /** Words of a state. */
  readonly words: number;
  /**
   * States of a layer whose first `keyWords` words are equal have the same future: the same moves at the same costs. The
   * other words are carried along to save work and follow from the first ones.
   */
  readonly keyWords: number;
  /** Writes the state that every path begins with. */
  start(state: StateRow): void;
  /** Writes the numbers of the legal moves in a fixed order into `into` (room for `moves`), and returns how many. */
  movesFrom(state: StateRow, into: Int32Array): number;
  /** Writes the state after a legal move into `to`, which is another row, and the cost of the move into `cost`. */
  follow(state: StateRow, move: number, to: StateRow, cost: Float64Array): void;
  /**
   * Writes a cost that is lexicographically at most that of every way from the state to the last layer; its first term
   * is infinite where there is none. At the last layer all terms are 0.
   */
  bound(state: StateRow, layer: number, into: Float64Array): void;
  /** Where states can be compared that are not equal. */
  readonly dominance?: Dominance;
  /**
   * From now on only paths that cost less than `cutoff` are of interest: `movesFrom` may leave out moves that lie on none
   * of them, and `bound` may be higher or infinite where none goes on. Costs never rise from call to call; a call
   * with the same cost as before may go on where the last one stopped.
   */
  sharpen?(cutoff: Cost): void;
}

/**
 * States of a layer with the same first `words` words (no more than `keyWords`) can be compared: whatever can be done
 * from `b` can be done from `a` at no more than its cost plus a surcharge.
 */
export interface Dominance {
  readonly words: number;
  /** Writes the surcharge; its first term is infinite where `a` says nothing of `b`. */
  surcharge(a: StateRow, b: StateRow, into: Float64Array): void;
}
