import { BudgetShare } from '../../base/budget-share.js';
import { compareRows, copyRow } from './cost-rows.js';
import { diveOf } from './dive.js';
import { NONE } from './node-store.js';
import { NodeSearch } from './node-search.js';
import { SolverRun } from './solver-run.js';
import type { Solver } from './solver.js';

/** Steps of the dive at the start for each layer. Our choice. */
const STEPS_A_LAYER = 4;
/** Expansions between two looks at the bound, so that telling of it costs nothing. */
const BETWEEN_LOOKS = 64;

/**
 * Best-first search with bounds (A*, Hart, Nilsson and Raphael 1968): always the open state of least bound, of equal ones
 * the deeper, then the one made earlier. The bound rises from expansion to expansion and the first whole path that is
 * least is proved at once; paths on the way come from a greedy dive at the start, where none is known.
 */
export const bestFirst: Solver = (problem, options) => {
  const run = new SolverRun(problem, options);
  const search = new NodeSearch(run, 'one');
  const list = search.memory.listOf(0);
  if (run.best === undefined && search.hasOpen()) dive(run);
  run.settle();
  const told = search.memory.lowestBound();
  for (let count = 1; search.next(list) !== NONE && options.budget.take(); count += 1) {
    search.expand(list);
    run.settle();
    if (count % BETWEEN_LOOKS !== 0) continue;
    const lowest = search.memory.lowestBound();
    if (compareRows(told, 0, lowest, 0, problem.terms) >= 0) continue;
    copyRow(lowest, 0, told, 0, problem.terms);
    run.progress(list.size, lowest);
  }
  const lowest = search.memory.lowestBound();
  run.progress(list.size, lowest);
  return run.report(lowest);
};

/** Down the cheapest follower first, up from dead ends a few times, to a first path. */
function dive(run: SolverRun): void {
  const { problem, options } = run;
  diveOf(run, { budget: new BudgetShare(options.budget, STEPS_A_LAYER * problem.layers) }).run();
}
