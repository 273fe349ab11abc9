import { costOfRow } from './cost-rows.js';
import { DepthFirstSearch, type DepthFirstOptions } from './depth-first-search.js';
import type { SolverRun } from './solver-run.js';

/**
 * A depth-first search for a run, which meets its paths; where nothing else is asked for, it spends the run's whole budget
 * and ends at the first path that is better than the best.
 */
export const diveOf = (run: SolverRun, asked: Partial<DepthFirstOptions> = {}): DepthFirstSearch =>
  new DepthFirstSearch(run.problem, {
    budget: run.options.budget,
    memory: run.options.memory,
    counters: run.counters,
    cutoff: run.cutoff,
    onPath: (moves, cost) => run.meet(moves, costOfRow(cost, 0, run.problem.terms)),
    ...asked,
  });
