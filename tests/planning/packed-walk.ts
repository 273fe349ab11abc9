import { addCost, compareCost, unreachableCost, zeroCost, type Cost } from '../../src/algorithms/cost.js';
import type { PackedProblem, StateRow } from '../../src/algorithms/solvers/packed-problem.js';

/** A state that can be reached, what it leads to, and what all of it costs at least. */
export interface WalkedState {
  readonly row: StateRow;
  readonly layer: number;
  readonly key: string;
  readonly bound: Cost;
  readonly moves: readonly { readonly move: number; readonly cost: Cost; readonly to: string }[];
  /** The least cost of all ways to the last layer, by going all of them; infinite where there is none. */
  readonly toGo: Cost;
}

/** Every state of a small problem that can be reached, by key, the start first. */
export function walked(problem: PackedProblem): ReadonlyMap<string, WalkedState> {
  const states = new Map<string, WalkedState>();
  const start = new Uint32Array(problem.words);
  problem.start(start);
  visit(problem, start, 0, states);
  return new Map([...states].sort(([, a], [, b]) => a.layer - b.layer));
}

const keyOf = (problem: PackedProblem, row: StateRow): string => row.subarray(0, problem.keyWords).join('.');

function visit(
  problem: PackedProblem,
  row: StateRow,
  layer: number,
  states: Map<string, WalkedState>,
): WalkedState {
  const key = keyOf(problem, row);
  const known = states.get(key);
  if (known !== undefined) return known;
  const bound = new Float64Array(problem.terms);
  problem.bound(row, layer, bound);
  let toGo = layer === problem.layers ? zeroCost(problem.terms) : unreachableCost(problem.terms);
  const into = new Int32Array(problem.moves);
  const count = layer === problem.layers ? 0 : problem.movesFrom(row, into);
  const moves = Array.from(into.subarray(0, count), (move) => {
    const after = new Uint32Array(problem.words);
    const cost = new Float64Array(problem.terms);
    problem.follow(row, move, after, cost);
    const next = visit(problem, after, layer + 1, states);
    const sum = addCost([...cost], next.toGo);
    if (compareCost(sum, toGo) < 0) toGo = sum;
    return { move, cost: [...cost], to: next.key };
  });
  const state = { row, layer, key, bound: [...bound], moves, toGo };
  states.set(key, state);
  return state;
}

/** What a problem says of its start. */
export function boundAtStart(problem: PackedProblem): Cost {
  const row = new Uint32Array(problem.words);
  const bound = new Float64Array(problem.terms);
  problem.start(row);
  problem.bound(row, 0, bound);
  return [...bound];
}
