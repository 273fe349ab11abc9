import { BudgetShare } from '../../base/budget-share.js';
import { seededRandom, type Random } from '../../base/random.js';
import { raiseRow } from './cost-rows.js';
import { diveOf } from './dive.js';
import { SolverRun } from './solver-run.js';
import type { Solver } from './solver.js';

/**
 * Places that a child may gain on the cheapest one, at most; each dive draws its own share of it. Our
 * choice.
 */
const MOST_NOISE = 4;
/**
 * Steps of a dive for each layer; doubled when as many dives in a row as `PATIENCE` found no path. Our
 * choice.
 */
const STEPS_A_LAYER = 4;
const PATIENCE = 16;

/**
 * Seeded random dives, the children of each state ranked by g + bound plus noise, until the budget ends. A
 * dive ends at a whole path or after a number of steps. A baseline: it proves only when a dive leaves
 * nothing unexplored, or what it found costs no more than the bound.
 */
export const randomRestarts: Solver = (problem, options) => {
  const run = new SolverRun(problem, options);
  const random = seededRandom(options.seed);
  const open = new Float64Array(problem.terms).fill(-Infinity);
  let steps = STEPS_A_LAYER * Math.max(1, problem.layers);
  let failures = 0;
  do {
    const search = diveOf(run, {
      budget: new BudgetShare(options.budget, steps),
      reorder: noisyOrder(random, MOST_NOISE * random()),
    });
    failures = search.run() === 'whole-path' ? 0 : failures + 1;
    raiseRow(open, 0, search.openBound(), 0, problem.terms);
    run.settle();
    if (failures === PATIENCE) {
      steps *= 2;
      failures = 0;
    }
  } while (!run.hopeless(open, 0) && options.budget.exhaustedBy() === undefined);
  return run.report(open);
};

/** Ranks plus noise; equal sums keep their order. */
function noisyOrder(random: Random, noise: number): (children: number[]) => void {
  return (children) => {
    const keys = new Map(children.map((child, rank) => [child, rank + noise * random()]));
    children.sort((a, b) => keys.get(a)! - keys.get(b)!);
  };
}
