import type { Random } from '../../base/random.js';
import { depthFirst } from './depth-first.js';
import type { PackedProblem } from './packed-problem.js';
import { setProgramming } from './set-programming.js';
import type { Solver, SolverOptions, SolverReport } from './solver.js';

/** Share of the repairs by the solver that did worse so far. Our choice. */
const SECOND_CHOICE = 0.1;

/** Two exact solvers, of which the one that exhausts more neighbourhoods for its steps is mostly taken. */
export class RepairSolvers {
  private readonly solvers: readonly Solver[] = [setProgramming, depthFirst];
  private readonly exhausted = [1, 1];
  private readonly steps = [1, 1];

  solve(problem: PackedProblem, random: Random, options: SolverOptions): SolverReport {
    const { exhausted, steps } = this;
    const faster = exhausted[0]! * steps[1]! >= exhausted[1]! * steps[0]! ? 0 : 1;
    const chosen = random() < SECOND_CHOICE ? 1 - faster : faster;
    const report = this.solvers[chosen]!(problem, options);
    steps[chosen]! += report.counters.expanded;
    if (report.outcome === 'optimal' || report.outcome === 'impossible') exhausted[chosen]! += 1;
    return report;
  }
}
