import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { Clock } from '../base/budget.js';
import { issueLine } from '../model/issue.js';
import { readInstance, type InstanceSources } from './read-instance.js';
import type { Limits, RunResult } from './row.js';
import { errorText, runHeuristic, type Told } from './run-heuristic.js';
import { runPacked, type Run } from './run-packed.js';
import { runPlanned } from './run-planned.js';
import { emptyResult } from './run-result.js';
import { Stopwatch } from './stopwatch.js';
import { STUDY_SOLVERS } from './study-solvers.js';

/** One run as it is handed to a thread. */
export interface RunTask {
  readonly sources: InstanceSources;
  /** The name of a solver of ours, or where the module of a heuristic is. */
  readonly solver: { readonly name: string } | { readonly module: string };
  readonly seed: number;
  readonly limits: Limits;
}

/** What a thread brings along. */
export interface RunTools {
  readonly clock: Clock;
  readonly loadPrograms: () => Promise<LinearPrograms>;
  /** The default export of a module. */
  readonly loadModule: (module: string) => Promise<unknown>;
  readonly tell: (told: Told) => void;
}

/** Reads the instance and runs the solver, all on one clock. Never rejects. */
export async function runTask(task: RunTask, tools: RunTools): Promise<RunResult> {
  const watch = new Stopwatch(tools.clock);
  try {
    return await run(task, tools, watch);
  } catch (error) {
    return emptyResult('failed', `a defect of Tackwright: threw ${errorText(error)}`, [], watch.seconds);
  }
}

async function run(
  { sources, solver, seed, limits }: RunTask,
  { clock, loadPrograms, loadModule, tell }: RunTools,
  watch: Stopwatch,
): Promise<RunResult> {
  const { value: instance, issues } = readInstance(sources);
  if (instance === undefined) return emptyResult('failed', issues.map(issueLine)[0] ?? '', [], watch.seconds);
  const one: Run = { seed, limits, clock };
  const unfit = (why: string): RunResult => emptyResult('not-applicable', why, instance.terms, watch.seconds);
  if ('module' in solver) {
    if (instance.kind === 'weldment') return unfit('a heuristic takes instances without shapes only');
    const load = (): Promise<unknown> => loadModule(solver.module);
    return runHeuristic(instance, load, one, watch, tell);
  }
  const { solve } = STUDY_SOLVERS.get(solver.name)!;
  if (instance.kind === 'weldment')
    return solve === undefined
      ? runPlanned(instance, one, watch, await loadPrograms())
      : unfit('weldments with shapes are planned by the solver plan only');
  return solve === undefined
    ? unfit('the solver plan takes weldments with shapes only')
    : runPacked(instance, solve, one, watch);
}
