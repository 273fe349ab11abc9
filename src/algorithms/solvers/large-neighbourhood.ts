import { raiseRow } from './cost-rows.js';
import { diveOf } from './dive.js';
import { Repairs } from './repairs.js';
import { SolverRun } from './solver-run.js';
import type { Solver } from './solver.js';
import { boundOfStart, walkPath, wholeCost } from './walked-path.js';

/**
 * Large-neighbourhood search (Shaw, CP 1998) with exact repair: frees some items of the best path and finds
 * the best place and way for each among the fixed others. The sizes adapt themselves, and equal paths are
 * accepted at times. Where the problem offers the costs of its arcs, blocks of the order are exchanged
 * between the repairs. Begins with the known path or a greedy one. Ends with the budget, or with a proof
 * when all items were freed at once and that was exhausted. The memory is that of one repair.
 */
export const largeNeighbourhood: Solver = (problem, options) => {
  const { known, ...rest } = options;
  // Begun without the known path: the run would sharpen the problem to it and so rule out paths of equal cost.
  const run = new SolverRun(problem, rest);
  const open = boundOfStart(problem);
  if (known !== undefined) run.meet(known, wholeCost(walkPath(problem, known), problem.terms));
  else raiseRow(open, 0, firstPath(run), 0, problem.terms);
  if (run.best !== undefined) new Repairs(run, open).untilDone();
  return run.report(open);
};

/** Meets the first path of a depth-first search; what every other path costs at least. */
function firstPath(run: SolverRun): Float64Array {
  const search = diveOf(run);
  search.run();
  return search.openBound();
}
