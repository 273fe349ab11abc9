import type { Budget } from '../base/budget.js';
import { fail, ok, type Result } from '../base/result.js';
import { NodeStore, NONE } from './solvers/node-store.js';
import type { PackedProblem } from './solvers/packed-problem.js';

/** How far the count came when the budget or the room in memory ended. */
export interface CountStopped {
  readonly layer: number;
  readonly states: number;
}

/**
 * The number of different paths from the start to the last layer: dynamic programming over state keys, one layer at a
 * time, so its cost grows with the states and not with the paths. One budget step a state. Costs, bounds and dominance
 * play no part; the problem must not have been sharpened.
 */
export function countPaths(problem: PackedProblem, budget: Budget): Result<bigint, CountStopped> {
  const count = new PathCount(problem);
  for (let layer = 0; layer < problem.layers; layer += 1)
    if (!count.advance(layer, budget)) return fail({ layer, states: count.following.length });
  return ok(count.total());
}

class PathCount {
  /** States of the layer, and of the next one as far as they were met. */
  private states: number[] = [];
  following: number[] = [];
  /** The number of paths to each state, by its slot in the store. */
  private readonly paths: bigint[] = [];
  private readonly store: NodeStore;
  private readonly state: Uint32Array;
  private readonly after: Uint32Array;
  private readonly moves: Int32Array;
  private readonly cost: Float64Array;

  constructor(private readonly problem: PackedProblem) {
    const { words, keyWords, moves, terms } = problem;
    this.store = new NodeStore({ words, groupWords: keyWords, terms: 0 }, Infinity);
    this.state = new Uint32Array(words);
    this.after = new Uint32Array(words);
    this.moves = new Int32Array(moves);
    this.cost = new Float64Array(terms);
    problem.start(this.after);
    this.meet(0, 1n);
    this.states = this.following;
  }

  /** False when the budget or the room ends. */
  advance(layer: number, budget: Budget): boolean {
    this.following = [];
    for (const node of this.states) {
      if (!budget.take() || !this.store.hasRoom(this.problem.moves)) return false;
      this.store.read(node, this.state);
      const count = this.problem.movesFrom(this.state, this.moves);
      for (let i = 0; i < count; i += 1) {
        this.problem.follow(this.state, this.moves[i]!, this.after, this.cost);
        this.meet(layer + 1, this.paths[node]!);
      }
    }
    for (const node of this.states) {
      this.store.leaveTable(node);
      this.store.free(node);
    }
    this.states = this.following;
    return true;
  }

  total(): bigint {
    return this.states.reduce((sum, node) => sum + this.paths[node]!, 0n);
  }

  /** So many paths lead to the state `after`. */
  private meet(layer: number, paths: bigint): void {
    const { store, after } = this;
    const hash = store.hashOf(after, layer);
    let node = store.firstAlike(after, layer, hash);
    if (node === NONE) {
      node = store.add(after, layer, hash);
      this.paths[node] = 0n;
      this.following.push(node);
    }
    this.paths[node]! += paths;
  }
}
