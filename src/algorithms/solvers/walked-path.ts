import type { PackedProblem } from './packed-problem.js';

/** A legal path with every state and the cost of every beginning of it, so that parts of it need not be walked again. */
export interface WalkedPath {
  readonly moves: readonly number[];
  /** `words` numbers for each of the `layers + 1` states. */
  readonly states: Uint32Array;
  /** `terms` numbers for each layer: the cost of the moves up to it. */
  readonly costs: Float64Array;
}

/**
 * Walks legal moves from the start with `follow`.
 *
 * @throws RangeError when there are not as many moves as layers
 */
export function walkPath(problem: PackedProblem, moves: readonly number[]): WalkedPath {
  const { layers, words, terms } = problem;
  if (moves.length !== layers)
    throw new RangeError(`A whole path has ${layers} moves, this one has ${moves.length}.`);
  const states = new Uint32Array((layers + 1) * words);
  const costs = new Float64Array((layers + 1) * terms);
  const cost = new Float64Array(terms);
  problem.start(states.subarray(0, words));
  moves.forEach((move, layer) => {
    const at = layer * words;
    problem.follow(states.subarray(at, at + words), move, states.subarray(at + words, at + 2 * words), cost);
    for (let term = 0; term < terms; term += 1)
      costs[(layer + 1) * terms + term] = costs[layer * terms + term]! + cost[term]!;
  });
  return { moves, states, costs };
}

/** The cost of the whole path. */
export const wholeCost = (path: WalkedPath, terms: number): number[] =>
  Array.from(path.costs.subarray(-terms));

/** A row that is at most the cost of every whole path. */
export function boundOfStart(problem: PackedProblem): Float64Array {
  const state = new Uint32Array(problem.words);
  const bound = new Float64Array(problem.terms);
  problem.start(state);
  problem.bound(state, 0, bound);
  return bound;
}
