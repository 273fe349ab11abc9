import { compileNetwork } from './disjunctive-network.js';
import type { DisjunctiveProblem, ScheduleOptions, ScheduleReport } from './disjunctive-problem.js';
import { DisjunctiveRun } from './disjunctive-run.js';

/**
 * The least makespan of a disjunctive problem, with proof: a first answer by dispatching and tabu search, a lower
 * bound by refuting shorter makespans, then branch and bound over the orders of spans (edge finding after Carlier
 * and Pinson 1989). Anytime, and the same budget in steps gives the same report.
 *
 * @throws RangeError where a number is not whole, is negative, or names no operation.
 */
export function leastMakespan(problem: DisjunctiveProblem, options: ScheduleOptions): ScheduleReport {
  const network = compileNetwork(problem);
  if (network === undefined) return { outcome: 'impossible', bound: Infinity, nodes: 0, improvements: [] };
  const run = new DisjunctiveRun(network, options);
  if (!run.propagateRoot()) return run.report();
  run.raiseBound('propagate');
  run.dispatch();
  run.improveLocally(1);
  run.raiseBound('probe');
  run.improveLocally(3);
  run.branch();
  return run.report();
}
