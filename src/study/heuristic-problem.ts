import type { PackedProblem, StateRow } from '../algorithms/solvers/packed-problem.js';
import type { HeuristicMove, HeuristicProblem } from './heuristic.js';
import type { PackedInstance } from './instance.js';

/** The state after the moves of a prefix, and what came of asking about it. */
interface Reached {
  readonly move: number;
  readonly state: StateRow;
  next: readonly HeuristicMove[] | undefined;
}

/** Walks a packed problem along prefixes of moves, and keeps the states along the last one. */
class Walk {
  private readonly reached: Reached[] = [];
  private readonly numbers: Int32Array;
  private readonly cost: Float64Array;

  constructor(
    readonly problem: PackedProblem,
    private readonly nameOf: (move: number) => string,
  ) {
    this.numbers = new Int32Array(problem.moves);
    this.cost = new Float64Array(problem.terms);
    const state = new Uint32Array(problem.words);
    problem.start(state);
    this.reached.push({ move: -1, state, next: undefined });
  }

  /** The state after the moves, each of which is looked up among the legal ones. */
  to(prefix: readonly HeuristicMove[]): Reached {
    let depth = 0;
    while (depth < prefix.length && this.reached[depth + 1]?.move === prefix[depth]!.move) depth += 1;
    this.reached.length = depth + 1;
    for (; depth < prefix.length; depth += 1) {
      const { move } = prefix[depth]!;
      const at = this.reached[depth]!;
      if (!this.next(at, depth).some((one) => one.move === move))
        throw new RangeError(`Move ${depth + 1} of the prefix is none that next gave there.`);
      const state = new Uint32Array(this.problem.words);
      this.problem.follow(at.state, move, state, this.cost);
      this.reached.push({ move, state, next: undefined });
    }
    return this.reached[depth]!;
  }

  next(at: Reached, depth: number): readonly HeuristicMove[] {
    at.next ??= depth >= this.problem.layers ? [] : this.movesFrom(at.state);
    return at.next;
  }

  private movesFrom(state: StateRow): readonly HeuristicMove[] {
    const count = this.problem.movesFrom(state, this.numbers);
    const after = new Uint32Array(this.problem.words);
    return Array.from(this.numbers.subarray(0, count), (move) => {
      this.problem.follow(state, move, after, this.cost);
      return { move, item: this.nameOf(move), cost: Array.from(this.cost) };
    });
  }
}

/** The view of an instance that a user's heuristic gets. What it is handed are copies. */
export function heuristicProblem(instance: PackedInstance): HeuristicProblem {
  const problem = instance.problem('all');
  const names = instance.order(Array.from({ length: problem.moves }, (_, move) => move));
  const walk = new Walk(problem, (move) => names[move]!);
  return {
    name: instance.name,
    kind: instance.kind,
    terms: [...instance.terms],
    length: problem.layers,
    next: (prefix) => [...walk.next(walk.to(prefix), prefix.length)],
    bound: (prefix) => {
      const bound = new Float64Array(problem.terms);
      problem.bound(walk.to(prefix).state, prefix.length, bound);
      return Array.from(bound);
    },
    judge: (order) => {
      const judged = instance.judge(order);
      return judged.ok ? { cost: judged.value } : { refused: judged.error };
    },
  };
}
