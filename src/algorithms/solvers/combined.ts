import { seededRandom } from '../../base/random.js';
import { beam } from './beam.js';
import { BudgetShare } from '../../base/budget-share.js';
import { compareRows, unreachableRow, type CostRows } from './cost-rows.js';
import { largeNeighbourhood } from './large-neighbourhood.js';
import { isSequenced } from './sequence-costs.js';
import { SequenceImprover } from './sequence-improver.js';
import { SolverRun } from './solver-run.js';
import type { Solver, SolverOptions, SolverPath, SolverReport } from './solver.js';
import { boundOfStart, walkPath, wholeCost } from './walked-path.js';

/** Steps of the first turn; each further turn has twice as many of all. Our choice. */
const BEAM_STEPS = 5_000;
const LOCAL_STEPS = 20_000;
const SHARPENINGS = 6;
/** Sharpening ends for a turn when so many in a row have not raised the bound on the whole. Our choice. */
const IDLE_SHARPENINGS = 4;

/**
 * Several solvers in turn, each turn twice as long as the one before: local search from the best path (exchanges of
 * blocks where the problem offers its arcs, else repairs), sharpening of the bounds by the best path, and a complete beam,
 * until the beam proves it.
 */
export const combined: Solver = (problem, options) => {
  const turns = new Turns(problem, options);
  for (let turn = 0; turns.turn(2 ** turn); turn += 1);
  return turns.run.report(turns.open);
};

class Turns {
  readonly run: SolverRun;
  /** At most the cost of every path that is not shown to be no better than the best one. */
  open: CostRows;
  private readonly random;
  private improver: SequenceImprover | undefined;

  constructor(
    private readonly problem: Parameters<Solver>[0],
    private readonly options: Parameters<Solver>[1],
  ) {
    this.run = new SolverRun(problem, options);
    this.random = seededRandom(options.seed);
    this.open = new Float64Array(problem.terms).fill(-Infinity);
    this.lookAtStart();
  }

  /** False when the best path is proved or the budget is exhausted. */
  turn(size: number): boolean {
    const { run, problem } = this;
    if (this.done()) return false;
    if (run.best === undefined) this.sweep(size * Math.max(BEAM_STEPS, 8 * problem.layers));
    if (this.done()) return false;
    this.improve(size);
    if (this.done()) return false;
    this.sharpen(size * SHARPENINGS);
    if (this.done()) return false;
    this.sweep(size * BEAM_STEPS);
    return !this.done();
  }

  private done(): boolean {
    return this.run.hopeless(this.open, 0) || this.options.budget.exhaustedBy() !== undefined;
  }

  private sweep(steps: number): void {
    const budget = new BudgetShare(this.options.budget, steps);
    this.take(beam(this.problem, this.optionsOf(budget, this.run.best)));
  }

  private optionsOf(budget: BudgetShare, from: SolverPath | undefined): SolverOptions {
    const { run, options } = this;
    const { memory, seed } = options;
    const onImprovement = ({ steps, cost }: SolverPath): void => void run.meet(steps, cost);
    return { budget, memory, seed, known: from?.steps, onImprovement };
  }

  /** What a solver counted and proved. */
  private take({ outcome, bound, counters }: SolverReport): void {
    for (const [name, count] of Object.entries(counters))
      this.run.counters[name as keyof typeof this.run.counters] += count;
    const proved = outcome === 'optimal' || outcome === 'impossible';
    this.raise(proved ? unreachableRow(this.problem.terms) : Float64Array.from(bound));
    this.tell();
  }

  /** Exchanges of blocks where the problem offers its arcs, else repairs. */
  private improve(size: number): void {
    const { run, problem, options } = this;
    if (run.best === undefined) return;
    if (!isSequenced(problem)) return this.repair(run.best, size * BEAM_STEPS);
    const budget = new BudgetShare(options.budget, size * LOCAL_STEPS);
    this.improver ??= new SequenceImprover(problem, run.best.steps, this.random);
    this.improver.adopt(run.best.steps);
    while (budget.exhaustedBy() === undefined) {
      const moves = this.improver.improve(budget);
      if (moves !== undefined) run.meet(moves, wholeCost(walkPath(problem, moves), problem.terms));
    }
  }

  private repair(from: SolverPath, steps: number): void {
    const { options } = this;
    const budget = new BudgetShare(options.budget, steps);
    this.take(largeNeighbourhood(this.problem, this.optionsOf(budget, from)));
  }

  private sharpen(times: number): void {
    const { run, problem, options } = this;
    if (run.best === undefined || problem.sharpen === undefined) return;
    for (let idle = 0, i = 0; i < times && idle < IDLE_SHARPENINGS && !this.done(); i += 1) {
      problem.sharpen(run.best.cost);
      idle = this.lookAtStart() ? 0 : idle + 1;
      if (options.budget.exhaustedBy() !== undefined) return;
    }
    this.tell();
  }

  /** Whether the bound on the whole has risen. */
  private lookAtStart(): boolean {
    return this.raise(boundOfStart(this.problem));
  }

  private raise(bound: CostRows): boolean {
    if (compareRows(bound, 0, this.open, 0, this.problem.terms) <= 0) return false;
    this.open = bound;
    return true;
  }

  private tell(): void {
    this.run.progress(0, this.open);
  }
}
