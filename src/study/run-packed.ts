import { compareCost } from '../algorithms/cost.js';
import type { Solver, SolverReport } from '../algorithms/solvers/solver.js';
import { Budget, type Clock } from '../base/budget.js';
import type { PackedInstance } from './instance.js';
import type { Limits, RunResult } from './row.js';
import { emptyResult } from './run-result.js';
import type { Stopwatch } from './stopwatch.js';

/** One run of a solver. */
export interface Run {
  readonly seed: number;
  readonly limits: Limits;
  readonly clock: Clock;
}

export const BYTES_A_MEGABYTE = 1e6;

/**
 * Runs a solver on a fresh problem, which it sets up on the same clock, and judges its order apart from it. A claim
 * that the judgement contradicts fails the row.
 */
export function runPacked(
  instance: PackedInstance,
  solver: Solver,
  { seed, limits, clock }: Run,
  watch: Stopwatch,
): RunResult {
  const problem = instance.problem();
  const left = limits.seconds === undefined ? undefined : Math.max(0, limits.seconds - watch.seconds);
  const budget = new Budget({ steps: limits.steps ?? Infinity, seconds: left, clock });
  const report = solver(problem, {
    ...{ budget, seed, memory: limits.megabytes * BYTES_A_MEGABYTE },
    onImprovement: ({ cost }) => void watch.found(cost),
  });
  const totalSeconds = watch.seconds;
  const wrong = contradiction(instance, report);
  if (wrong !== undefined)
    return emptyResult('failed', `a defect of Tackwright: ${wrong}`, instance.terms, totalSeconds);
  // A solver that does not tell of each improvement has its best one at the end.
  if (report.best !== undefined) watch.found(report.best.cost);
  const proved = report.outcome === 'optimal' || report.outcome === 'impossible';
  return {
    ...{ outcome: report.outcome, terms: instance.terms, best: report.best?.cost, bound: report.bound },
    ...{ provedTerms: report.provedTerms, steps: budget.steps, totalSeconds },
    ...{ firstSeconds: watch.firstSeconds, bestSeconds: watch.bestSeconds },
    proofSeconds: proved ? totalSeconds : undefined,
    ...{ dropped: report.counters.dropped, note: '' },
  };
}

/** What the independent judgement of the best order says against the report. */
function contradiction(instance: PackedInstance, { best, outcome }: SolverReport): string | undefined {
  if (best === undefined) return undefined;
  const judged = instance.judge(instance.order(best.steps));
  if (!judged.ok) return `its order is not legal: ${judged.error}`;
  const difference = compareCost(judged.value, best.cost);
  if (difference > 0) return `its order costs ${judged.value.join(' / ')}, not ${best.cost.join(' / ')}`;
  if (difference < 0 && outcome === 'optimal')
    return `it calls ${best.cost.join(' / ')} the least cost, and its order costs ${judged.value.join(' / ')}`;
  return undefined;
}
