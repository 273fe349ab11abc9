import { has, setOf } from '../base/part-set.js';
import { PathBound } from './path-bound.js';
import { closePrecedence, type Precedence } from './precedence.js';
import type { PackedProblem, StateRow } from './solvers/packed-problem.js';
import type { SequenceCosts, SequencedProblem } from './solvers/sequence-costs.js';

/**
 * A sequential ordering problem (Escudero 1988): visit every node once, node 0 first and node n-1 last, each
 * after those that must come before it, with the least sum of costs from one to the next.
 */
export interface SequentialOrdering {
  /** cost[i][j] of going from i straight to j, an integer from 0; -1 means that j must come before i. */
  readonly cost: readonly (readonly number[])[];
}

/**
 * Costs up to this add up exactly along an order of so many nodes, also with the bound on what is left, so that what is
 * proved by them is true.
 */
export const mostCost = (nodes: number): number => Math.floor(2 ** 51 / (nodes - 1));

/** Costs that say nothing: of staying, of going back to node 0 and of going on from the last node. */
export const isIdle = (nodes: number, from: number, to: number): boolean =>
  from === to || to === 0 || from === nodes - 1;

/** Before each node: those its row says, node 0, and before the last node all others. */
export function precedencePairs({ cost }: SequentialOrdering): Uint32Array[] {
  const n = cost.length;
  return cost.map((row, i) =>
    setOf(
      n,
      row.flatMap((entry, j) =>
        entry === -1 || (i !== j && (j === 0 || i === n - 1) && i !== 0) ? [j] : [],
      ),
    ),
  );
}

/**
 * The problem for the solvers: an item and a move are a node, its number one less. A state is the set of nodes behind,
 * then the last node of them and its position. A fresh one for each run, since it is sharpened for good.
 *
 * @throws RangeError where a cost is more than `mostCost`
 */
export function orderingProblem(
  instance: SequentialOrdering,
): PackedProblem & Partial<Pick<SequencedProblem, 'sequence'>> {
  const n = instance.cost.length;
  if (instance.cost.some((row, i) => row.some((cost, j) => cost > mostCost(n) && !isIdle(n, i, j))))
    throw new RangeError('Costs add up to more than can be counted without rounding.');
  const closed = closePrecedence(precedencePairs(instance));
  const words = ((n + 31) >>> 5) + 1;
  const common = { terms: 1, layers: n - 1, items: n - 1, moves: n - 1, words, keyWords: words };
  const start = (state: StateRow): void => {
    state.fill(0);
    state[0] = 1;
  };
  const itemOf = (move: number): number => move;
  const cost = Float64Array.from(instance.cost.flat());
  const follow = followNode(n, words, cost);
  if (!closed.ok)
    return {
      ...common,
      start,
      itemOf,
      movesFrom: () => 0,
      follow,
      bound: (_, __, into) => (into[0] = Infinity),
    };
  const path = new PathBound(cost, closed.value);
  return {
    sequence: sequenceOf(instance, closed.value),
    ...common,
    start,
    itemOf,
    follow,
    movesFrom: nextNodes(n, words, path, closed.value),
    bound: (state, layer, into) => {
      into[0] = path.bound(state, state[words - 1]! & 0xffff, layer);
    },
    dominance: { words: words - 1, surcharge: surchargeOf(n, words, path, cost, closed.value) },
    sharpen: ([cutoff]) => path.sharpen(cutoff!),
  };
}

/** Arcs for changing an order in place. An arc counts whether or not an order can use it. */
function sequenceOf({ cost }: SequentialOrdering, { before }: Precedence): SequenceCosts {
  return {
    arcCost: (from, to) => (has(before[from + 1]!, to + 1) ? Infinity : cost[from + 1]![to + 1]!),
    mustPrecede: (first, then) => has(before[then + 1]!, first + 1),
    moveOf: (item) => item,
  };
}

function followNode(n: number, words: number, cost: Float64Array): PackedProblem['follow'] {
  return (state, move, to, into) => {
    const node = move + 1;
    const last = state[words - 1]!;
    to.set(state);
    to[node >>> 5]! |= 1 << (node & 31);
    to[words - 1] = (((last >>> 16) + 1) << 16) | node;
    into[0] = cost[(last & 0xffff) * n + node]!;
  };
}

function nextNodes(
  n: number,
  words: number,
  path: PathBound,
  { direct }: Precedence,
): PackedProblem['movesFrom'] {
  return (state, into) => {
    const { start, to } = path.arcs;
    const last = state[words - 1]!;
    const spot = (last >>> 16) * n + (last & 0xffff);
    let count = 0;
    for (let a = start[spot]!; a < start[spot + 1]!; a += 1) {
      const node = to[a]!;
      if (((state[node >>> 5]! >>> (node & 31)) & 1) === 1 || !allBehind(direct[node]!, state)) continue;
      into[count] = node - 1;
      count += 1;
    }
    return count;
  };
}

function allBehind(nodes: Int32Array, state: StateRow): boolean {
  for (let at = 0; at < nodes.length; at += 1) {
    const node = nodes[at]!;
    if (((state[node >>> 5]! >>> (node & 31)) & 1) === 0) return false;
  }
  return true;
}

/** Going on from the last node of `a` in place of that of `b` costs at most so much more. */
function surchargeOf(
  n: number,
  words: number,
  path: PathBound,
  cost: Float64Array,
  { direct }: Precedence,
): (a: StateRow, b: StateRow, into: Float64Array) => void {
  return (a, b, into) => {
    const { start, to } = path.arcs;
    const last = b[words - 1]!;
    const [from, other] = [(last & 0xffff) * n, (a[words - 1]! & 0xffff) * n];
    const spot = (last >>> 16) * n + (last & 0xffff);
    let most = -Infinity;
    for (let at = start[spot]!; at < start[spot + 1]!; at += 1) {
      const node = to[at]!;
      const more = cost[other + node]! - cost[from + node]!;
      if (more <= most) continue;
      if (((b[node >>> 5]! >>> (node & 31)) & 1) === 1 || !allBehind(direct[node]!, b)) continue;
      most = more;
    }
    into[0] = most === -Infinity ? 0 : most;
  };
}
