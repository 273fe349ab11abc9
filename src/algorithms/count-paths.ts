import type { Budget } from '../base/budget.js';
import { fail, ok, type Result } from '../base/result.js';
import type { SearchProblem } from './problem.js';

/** How far the count came when the budget ended. */
export interface CountStopped {
  readonly layer: number;
  readonly states: number;
}

/**
 * The number of different paths from the start to the last layer: dynamic programming over state keys, one
 * layer at a time, so its cost grows with the states and not with the paths. One budget step a state. Costs,
 * bounds and `complete` play no part.
 */
export function countPaths<State, Step, Outcome>(
  problem: SearchProblem<State, Step, Outcome>,
  budget: Budget,
): Result<bigint, CountStopped> {
  let states = new Map([[problem.key(problem.start), { state: problem.start, paths: 1n }]]);
  for (let layer = 0; layer < problem.layers; layer += 1) {
    const next: typeof states = new Map();
    for (const { state, paths } of states.values()) {
      if (!budget.take()) return fail({ layer, states: next.size });
      for (const { to } of problem.transitions(state)) {
        const key = problem.key(to);
        const known = next.get(key);
        if (known === undefined) next.set(key, { state: to, paths });
        else known.paths += paths;
      }
    }
    states = next;
  }
  let total = 0n;
  for (const { paths } of states.values()) total += paths;
  return ok(total);
}
