import { costOfRow } from './cost-rows.js';
import { diveOf } from './dive.js';
import { SolverRun } from './solver-run.js';
import type { Solver } from './solver.js';

/**
 * Depth-first branch and bound: the cheapest child by g + bound first; what was explored at no more cost is
 * not explored again as long as the table remembers it. When it is stopped, the bound is the least of what
 * waits on the stack. The memory is that of the stack and the table.
 */
export const depthFirst: Solver = (problem, options) => {
  const run = new SolverRun(problem, options);
  const search = diveOf(run, {
    onPath: (moves, cost) => {
      run.meet(moves, costOfRow(cost, 0, problem.terms));
      run.settle();
      return false;
    },
  });
  search.run();
  return run.report(search.openBound());
};
