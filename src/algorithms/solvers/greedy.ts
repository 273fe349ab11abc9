import { diveOf } from './dive.js';
import { SolverRun } from './solver-run.js';
import type { Solver } from './solver.js';

/**
 * Always the cheapest next move by g + bound, of equal ones the one that comes first; backs up from a dead
 * end, and stops at the first whole path. A baseline: what it leaves unexplored is its bound.
 */
export const greedy: Solver = (problem, options) => {
  const run = new SolverRun(problem, options);
  const search = diveOf(run);
  search.run();
  return run.report(search.openBound());
};
