import { BudgetShare } from '../../base/budget-share.js';
import { seededRandom, type Random } from '../../base/random.js';
import { compareCost, type Cost } from '../cost.js';
import { raiseRow, rowOfCost, type CostRows } from './cost-rows.js';
import {
  drawNeighbourhood,
  NEIGHBOURHOODS,
  type Neighbourhood,
  type NeighbourhoodKind,
} from './neighbourhoods.js';
import { RepairSize } from './repair-size.js';
import { RepairSolvers } from './repair-solvers.js';
import { restrictedProblem } from './restricted.js';
import { isSequenced } from './sequence-costs.js';
import { SequenceImprover } from './sequence-improver.js';
import type { SolverRun } from './solver-run.js';
import type { SolverReport } from './solver.js';
import { boundOfStart, walkPath, wholeCost, type WalkedPath } from './walked-path.js';

/**
 * Steps of a repair at first; doubled after `PATIENCE` repairs in a row without a better path. Our choice.
 */
const REPAIR_STEPS = 1000;
const PATIENCE = 200;
/** Share of the repairs without a path to beat, which may end in another one of equal cost. Our choice. */
const DRIFT = 0.25;
/**
 * Repairs in a row without a better path after which the problem is sharpened, which may take long. Our
 * choice.
 */
const SETTLED = 10;

/** Repairs the best path of a run, or one of equal cost, again and again. */
export class Repairs {
  private readonly random: Random;
  private readonly kinds: readonly NeighbourhoodKind[];
  private readonly sizes: readonly RepairSize[];
  private readonly solvers = new RepairSolvers();
  private readonly improver: SequenceImprover | undefined;
  private path: WalkedPath;
  private limit = REPAIR_STEPS;
  private waited = 0;
  private sharpenedTo: Cost | undefined;

  /** @param open at most the cost of every path; raised to what a repair of everything proves */
  constructor(
    private readonly run: SolverRun,
    private readonly open: CostRows,
  ) {
    const { problem, options, best } = run;
    this.random = seededRandom(options.seed);
    this.path = walkPath(problem, best!.steps);
    this.kinds = NEIGHBOURHOODS.filter((kind) => kind !== 'ways' || problem.moves > problem.items);
    this.sizes = this.kinds.map(() => new RepairSize(problem.layers));
    if (isSequenced(problem)) this.improver = new SequenceImprover(problem, best!.steps, this.random);
  }

  untilDone(): void {
    const { run, open } = this;
    const { budget } = run.options;
    while (!run.hopeless(open, 0) && budget.exhaustedBy() === undefined) {
      this.exchangeBlocks();
      this.repair();
    }
  }

  private exchangeBlocks(): void {
    const { improver, run } = this;
    if (improver === undefined) return;
    const { budget } = run.options;
    const before = budget.steps;
    const moves = improver.improve(budget);
    run.counters.expanded += budget.steps - before;
    if (moves !== undefined && this.take(moves)) this.waited = 0;
  }

  private repair(): void {
    const { problem, options } = this.run;
    const index = Math.floor(this.random() * this.kinds.length);
    const size = this.sizes[index]!;
    const neighbourhood = drawNeighbourhood(this.kinds[index]!, size.items, problem.layers, this.random);
    const before = options.budget.steps;
    const report = this.solve(neighbourhood);
    const exhausted = report.outcome === 'optimal' || report.outcome === 'impossible';
    size.learn(exhausted, options.budget.steps - before, this.limit);
    // Without a path to beat, a repair may find none, or none as good.
    const better = report.best !== undefined && this.takeInside(neighbourhood, report.best.steps);
    if (neighbourhood.places.length === problem.layers)
      raiseRow(this.open, 0, rowOfCost(report.bound), 0, problem.terms);
    this.waited = better ? 0 : this.waited + 1;
    if (this.waited === SETTLED) this.sharpen();
    if (this.waited < PATIENCE) return;
    this.waited = 0;
    this.limit *= 2;
    this.run.progress(this.limit, this.open);
  }

  private solve({ window, places }: Neighbourhood): SolverReport {
    const { run, path } = this;
    const { problem, options } = run;
    const freed = new Uint8Array(problem.items);
    for (const place of places) freed[problem.itemOf(path.moves[place]!)] = 1;
    const drifts = this.random() < DRIFT;
    const report = this.solvers.solve(restrictedProblem(problem, path, freed, window), this.random, {
      budget: new BudgetShare(options.budget, this.limit),
      memory: options.memory,
      seed: options.seed,
      known: drifts ? undefined : path.moves.slice(window.from, window.to),
    });
    run.counters.expanded += report.counters.expanded;
    run.counters.generated += report.counters.generated;
    run.counters.pruned += report.counters.pruned;
    run.counters.dominated += report.counters.dominated;
    return report;
  }

  /** Puts the moves of a window into the path, unless that costs more; true when it costs less. */
  private takeInside({ window }: Neighbourhood, inside: readonly number[]): boolean {
    const { moves } = this.path;
    if (inside.every((move, i) => move === moves[window.from + i])) return false;
    const better = this.take([...moves.slice(0, window.from), ...inside, ...moves.slice(window.to)]);
    if (better) this.improver?.adopt(this.path.moves);
    return better;
  }

  private take(moves: readonly number[]): boolean {
    const { problem, best } = this.run;
    const path = walkPath(problem, moves);
    const cost = wholeCost(path, problem.terms);
    if (compareCost(cost, best!.cost) > 0) return false;
    this.path = path;
    return this.run.meet(moves, cost);
  }

  /** Sharpens so that paths that cost as much as the best one are left. */
  private sharpen(): void {
    const { problem, best } = this.run;
    if (problem.sharpen === undefined || this.sharpenedTo === best!.cost) return;
    this.sharpenedTo = best!.cost;
    problem.sharpen(best!.cost.map((term, i) => (i === problem.terms - 1 ? term + 1 : term)));
    raiseRow(this.open, 0, boundOfStart(problem), 0, problem.terms);
  }
}
