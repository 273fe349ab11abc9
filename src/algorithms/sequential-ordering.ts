import { has, isSubset, setKey, setOf, withMember, type PartSet } from '../base/part-set.js';
import { remainingPathBound } from './path-bound.js';
import type { SearchProblem, Transition } from './problem.js';

/**
 * A sequential ordering problem (Escudero 1988): visit every node once, node 0 first and node n-1 last, each
 * after those that must come before it, with the least sum of costs from one to the next.
 */
export interface SequentialOrdering {
  /** cost[i][j] of going from i straight to j, an integer from 0; -1 means that j must come before i. */
  readonly cost: readonly (readonly number[])[];
}

export interface OrderingState {
  readonly visited: PartSet;
  readonly last: number;
  readonly layer: number;
}

/** The problem as a search: a step is the number of the next node, the cost has one term. */
export function orderingProblem(instance: SequentialOrdering): SearchProblem<OrderingState, number> {
  const { cost } = instance;
  const n = cost.length;
  const before = predecessors(cost);
  const bound = remainingPathBound(straightArcs(cost, before));
  return {
    terms: 1,
    layers: n - 1,
    start: { visited: setOf(n, [0]), last: 0, layer: 0 },
    layer: (state) => state.layer,
    key: (state) => `${setKey(state.visited)}:${state.last}`,
    bound: (state) => [bound(state.visited, state.last)],
    transitions: (state) => nextNodes(cost, before, state),
  };
}

function* nextNodes(
  cost: SequentialOrdering['cost'],
  before: readonly PartSet[],
  state: OrderingState,
): Iterable<Transition<OrderingState, number>> {
  for (let next = 0; next < cost.length; next += 1) {
    if (has(state.visited, next) || !isSubset(before[next]!, state.visited)) continue;
    yield {
      to: { visited: withMember(state.visited, next), last: next, layer: state.layer + 1 },
      step: next,
      cost: [cost[state.last]![next]!],
    };
  }
}

/** For each node all that must come before it, transitively; everything before the last node. */
function predecessors(cost: SequentialOrdering['cost']): PartSet[] {
  const n = cost.length;
  const before = cost.map((row, i) =>
    setOf(
      n,
      row.flatMap((entry, j) => (j !== i && (entry === -1 || i === n - 1 || j === 0) && i !== 0 ? [j] : [])),
    ),
  );
  for (let k = 0; k < n; k += 1) {
    for (const set of before) {
      if (has(set, k)) before[k]!.forEach((word, i) => (set[i]! |= word));
    }
  }
  return before;
}

/** Costs of the arcs that an order can use; infinite where the nodes cannot follow each other directly. */
function straightArcs(cost: SequentialOrdering['cost'], before: readonly PartSet[]): number[][] {
  const usable = (i: number, j: number): boolean => {
    if (i === j || has(before[i]!, j)) return false;
    return !before.some((set, k) => has(set, i) && has(before[j]!, k));
  };
  return cost.map((row, i) => row.map((entry, j) => (usable(i, j) ? entry : Infinity)));
}
