import type { Instance } from './instance.js';

/** One way to go on: an item that may come next. An item with several ways has a move for each. */
export interface HeuristicMove {
  /** Number of the move, the same for the same item and way all through a problem. */
  readonly move: number;
  /** Name of the item. */
  readonly item: string;
  /** What the move adds to the cost, term by term, most important first. */
  readonly cost: readonly number[];
}

/** An instance as a user's heuristic sees it: items by name, to be put in an order of least cost. */
export interface HeuristicProblem {
  readonly name: string;
  readonly kind: Exclude<Instance['kind'], 'weldment'>;
  /** Names of the terms of a cost, which are compared in this order, a later one where the earlier ones are equal. */
  readonly terms: readonly string[];
  /** Moves of a whole order. */
  readonly length: number;
  /**
   * The legal moves after the moves so far, which must be ones that `next` gave, one after another from the start. Going on
   * from a prefix that was asked about before costs one step, not one for each move of it.
   *
   * @throws RangeError when the moves do not follow one another legally
   */
  next(prefix: readonly HeuristicMove[]): readonly HeuristicMove[];
  /** No way on from these moves adds less than this; the first term is infinite where there is none. */
  bound(prefix: readonly HeuristicMove[]): readonly number[];
  /** The cost of a whole order of names, or why it is not legal: the judgement that the answer gets too. */
  judge(order: readonly string[]): { readonly cost: readonly number[] } | { readonly refused: string };
}

/** What a user's heuristic may use. */
export interface HeuristicTools {
  readonly seed: number;
  /** Uniform numbers in [0, 1) from the seed. */
  random(): number;
  /** Of wall-clock time, all in all. */
  readonly seconds: number;
  secondsLeft(): number;
  /**
   * Tells of an order on the way; its moment is noted. The best legal one counts where the answer is worse, or where the
   * heuristic does not answer in time and is ended. Whether it is legal and better than all before.
   */
  report(order: readonly string[]): boolean;
}

/** The default export of a user's module: an order of the names of all items, or a promise of it. */
export type Heuristic = (
  problem: HeuristicProblem,
  tools: HeuristicTools,
) => readonly string[] | Promise<readonly string[]>;
