import { compareCost, earlierCost, equalTerms, type Cost } from '../cost.js';
import type { SearchCounters } from '../problem.js';
import { compareRows, costOfRow, unreachableRow, type CostRows } from './cost-rows.js';
import type { PackedProblem } from './packed-problem.js';
import type { SolverOptions, SolverPath, SolverReport } from './solver.js';
import { walkPath, wholeCost } from './walked-path.js';

/**
 * What every solver keeps: the best path, what it makes hopeless, the counters and the trace of improvements. A known
 * path is walked and met first.
 */
export class SolverRun {
  readonly counters: SearchCounters = noCounts();
  /** Cost of the best path; infinite while there is none. */
  readonly cutoff: CostRows;
  /** How often the problem was sharpened. */
  sharpened = 0;
  private found: SolverPath | undefined;
  private settled = true;
  private readonly improvements: { step: number; cost: Cost }[] = [];

  constructor(
    readonly problem: PackedProblem,
    readonly options: SolverOptions,
  ) {
    this.cutoff = unreachableRow(problem.terms);
    if (options.known === undefined) return;
    this.meet(options.known, wholeCost(walkPath(problem, options.known), problem.terms));
    this.settle();
  }

  get best(): SolverPath | undefined {
    return this.found;
  }

  /** Whether a bound says that nothing better than the best path comes of it. */
  hopeless(bounds: CostRows, at: number): boolean {
    return bounds[at] === Infinity || compareRows(bounds, at, this.cutoff, 0, this.cutoff.length) >= 0;
  }

  /** A whole legal path; true when it is the best so far. The problem is not sharpened before `settle`. */
  meet(steps: readonly number[], cost: Cost): boolean {
    this.counters.completed += 1;
    if (this.found !== undefined && compareCost(cost, this.found.cost) >= 0) return false;
    this.found = { steps: [...steps], cost };
    this.cutoff.set(cost);
    this.settled = false;
    this.improvements.push({ step: this.options.budget.steps, cost });
    this.options.onImprovement?.(this.found);
    return true;
  }

  /** Sharpens the problem to the best path, where that is new: bounds worked out before may now be higher. */
  settle(): void {
    if (this.settled || this.found === undefined) return;
    this.settled = true;
    if (this.problem.sharpen === undefined) return;
    this.problem.sharpen(this.found.cost);
    this.sharpened += 1;
  }

  /** The bound that follows from one on all that is left open. */
  private boundOf(open: CostRows): Cost {
    const lowest = open[0] === Infinity ? unreachableRow(open.length) : open;
    const cost = costOfRow(lowest, 0, open.length);
    return this.found === undefined ? cost : earlierCost(this.found.cost, cost);
  }

  progress(width: number, open: CostRows): void {
    const { budget, onProgress } = this.options;
    onProgress?.({ steps: budget.steps, width, best: this.found?.cost, bound: this.boundOf(open) });
  }

  /** @param open a row that is at most the cost of every path that was neither met nor shown to be no better; infinite if none is left */
  report(open: CostRows): SolverReport {
    const bound = this.boundOf(open);
    const { found, counters, improvements } = this;
    if (found === undefined) {
      const outcome = bound[0] === Infinity ? 'impossible' : 'none-in-budget';
      return { outcome, bound, provedTerms: 0, counters, improvements };
    }
    const best = { ...found, result: undefined };
    const provedTerms = equalTerms(best.cost, bound);
    const outcome = provedTerms === bound.length ? 'optimal' : 'feasible';
    return { outcome, best, bound, provedTerms, counters, improvements };
  }
}

export function noCounts(): SearchCounters {
  const none = { expanded: 0, generated: 0, completed: 0, refused: 0 };
  return { ...none, pruned: 0, dominated: 0, released: 0, dropped: 0 };
}
