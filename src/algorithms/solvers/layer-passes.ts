import { NONE } from './node-store.js';
import { NodeSearch } from './node-search.js';
import { SolverRun } from './solver-run.js';
import type { PackedProblem } from './packed-problem.js';
import type { SolverOptions, SolverReport } from './solver.js';

/**
 * Sweeps over the layers, each of which expands the best open states of every layer, at most `width` of them, and opens
 * their followers; what is not expanded stays open for the next sweep. Ends when nothing open can beat the best path.
 *
 * @param widthOf the width of each sweep, counted from 0
 */
export function sweepLayers(
  problem: PackedProblem,
  options: SolverOptions,
  widthOf: (sweep: number) => number,
): SolverReport {
  const run = new SolverRun(problem, options);
  const search = new NodeSearch(run, 'by-layer');
  for (let count = 0; search.hasOpen(); count += 1) {
    const width = widthOf(count);
    const goOn = sweep(search, width);
    run.settle();
    run.progress(width, search.memory.lowestBound());
    if (!goOn) break;
  }
  return run.report(search.memory.lowestBound());
}

/** False when the budget is exhausted. */
function sweep(search: NodeSearch, width: number): boolean {
  const { budget } = search.run.options;
  for (const list of search.memory.lists) {
    for (let count = 0; count < width && search.next(list) !== NONE; count += 1) {
      if (!budget.take()) return false;
      search.expand(list);
    }
  }
  return true;
}
