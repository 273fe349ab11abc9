import type { PackedProblem } from './packed-problem.js';

/**
 * What a packed problem offers beside its states when its legal paths are all orders of the same items that
 * keep a set of precedences, each item done by one move, and the cost of a path is one sum of costs from
 * each item to the next. Changes of an order can then be judged without walking it.
 */
export interface SequenceCosts {
  /**
   * Of doing item `to` straight after item `from`; `from` is -1 for the item that is done first. Infinite
   * where it cannot follow straight after.
   */
  arcCost(from: number, to: number): number;
  /**
   * Whether an item must be done, at any time, before another one; what follows from other precedences is
   * included.
   */
  mustPrecede(first: number, then: number): boolean;
  /** The move that does the item. */
  moveOf(item: number): number;
}

/** A problem with one cost term that offers its arcs. */
export interface SequencedProblem extends PackedProblem {
  readonly sequence: SequenceCosts;
}

export const isSequenced = (problem: PackedProblem): problem is SequencedProblem =>
  'sequence' in problem && problem.terms === 1;
