import type { SequencedProblem } from '../../../src/algorithms/solvers/sequence-costs.js';
import type { SequentialOrdering } from '../../../src/algorithms/sequential-ordering.js';

/**
 * A sequential ordering of fewer than 32 nodes as a packed problem without a bound that offers its arcs; node 0 is done
 * at the start, and a move is the number of the next node.
 */
export function smallSequence({ cost }: SequentialOrdering): SequencedProblem {
  const n = cost.length;
  const before = allBefore(cost);
  return {
    terms: 1,
    layers: n - 1,
    items: n,
    moves: n,
    itemOf: (move) => move,
    words: 2,
    keyWords: 2,
    start: (state) => state.set([1, 0]),
    movesFrom: (state, into) => {
      const done = state[0]!;
      const legal = cost.flatMap((_, node) =>
        ((done >>> node) & 1) === 0 && (before[node]! & ~done) === 0 ? [node] : [],
      );
      into.set(legal);
      return legal.length;
    },
    follow: (state, move, to, into) => {
      to[0] = state[0]! | (1 << move);
      to[1] = move;
      into[0] = cost[state[1]!]![move]!;
    },
    bound: (_state, _layer, into) => void into.fill(0),
    sequence: {
      arcCost: (from, to) => {
        const arc = cost[Math.max(from, 0)]![to]!;
        return arc < 0 ? Infinity : arc;
      },
      mustPrecede: (first, then) => ((before[then]! >>> first) & 1) === 1,
      moveOf: (item) => item,
    },
  };
}

/** For each node a mask of all that must come before it, transitively; all others before the last. */
function allBefore(cost: SequentialOrdering['cost']): number[] {
  const last = cost.length - 1;
  const before = cost.map((row, node) =>
    row.reduce((mask, arc, other) => {
      const earlier = node !== other && node !== 0 && (arc === -1 || other === 0 || node === last);
      return earlier ? mask | (1 << other) : mask;
    }, 0),
  );
  cost.forEach((_, middle) =>
    before.forEach((mask, node) => {
      if ((mask >>> middle) & 1) before[node] = mask | before[middle]!;
    }),
  );
  return before;
}
