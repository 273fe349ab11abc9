import type { Budget } from '../../base/budget.js';
import type { Cost } from '../cost.js';
import type { SearchProgress, SearchReport } from '../problem.js';
import type { PackedProblem } from './packed-problem.js';

/** What a solver may spend and whom it tells. */
export interface SolverOptions {
  /** One step is one state whose moves were looked at. */
  readonly budget: Budget;
  /** Most bytes that the kept states may take; when it binds, what is dropped stays in the bound. */
  readonly memory: number;
  /** Of the random choices, where a solver makes any. */
  readonly seed: number;
  /** The moves of a legal path to begin with. The report is never worse. */
  readonly known?: readonly number[] | undefined;
  readonly onImprovement?: ((path: SolverPath) => void) | undefined;
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
}

/** The moves of a whole path. */
export interface SolverPath {
  readonly steps: readonly number[];
  readonly cost: Cost;
}

/** `best.steps` are the numbers of the moves. */
export type SolverReport = SearchReport<number, undefined>;

/** Deterministic for a problem, a seed and a budget in steps. */
export type Solver = (problem: PackedProblem, options: SolverOptions) => SolverReport;
