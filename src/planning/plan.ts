import type { Budget } from '../base/budget.js';
import type { LinearPrograms } from '../algorithms/linear-program.js';
import type { SearchProgress, SearchReport } from '../algorithms/problem.js';
import { search } from '../algorithms/search.js';
import { Facts } from '../facts/facts.js';
import type { Cell } from '../model/cell.js';
import { buildScene } from '../model/scene.js';
import type { PlanReserve } from '../model/plan.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Weldment } from '../model/weldment.js';
import { OrderCompleter, type CompleteOrder } from './complete.js';
import { OrderProblem, type RefusalListener } from './order-problem.js';
import { RefusalTally } from './refusal-tally.js';
import { reordered, type Reordered } from './reordered.js';
import type { StageDraft } from './stage-draft.js';

/** What planning a weldment came to: the facts it used and what the search says. */
export interface PlanningReport {
  readonly facts: Facts;
  readonly search: SearchReport<StageDraft, CompleteOrder>;
  /** How the orders of the tacks of each stage compare; undefined for fewer than two. */
  readonly tackOrders: Reordered['tackOrders'];
  /** Reserves of each stage of the best order. */
  readonly reserves: readonly (readonly PlanReserve[])[];
  /** Why whole orders were refused, each part and state once with its nearest miss, most frequent first. */
  readonly orderRefusals: readonly Refusal[];
}

export interface PlanningOptions {
  /** Makes the budget of one search. */
  readonly budget: () => Budget;
  readonly onRefusal?: RefusalListener | undefined;
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
}

/** How the facts of a planning run answer. */
export interface FactsOptions {
  /** False works out every answer of the passes anew instead of keeping it: slow, to test that the plan is the same. */
  readonly keeping?: boolean;
}

/** The facts of a weldment in a cell, filled on demand while planning. */
export const factsOf = (
  weldment: Weldment,
  cell: Cell,
  settings: Settings,
  programs: LinearPrograms,
  { keeping = true }: FactsOptions = {},
): Facts => new Facts(buildScene(weldment, cell, settings), settings, programs, keeping);

/**
 * Plans a weldment: orders by search on a relaxation, each whole order completed with holds, tacks, statics, timeline and
 * handshakes; at first with the work table turned only where it must. Deterministic for a budget in steps.
 */
export function planWeldment(facts: Facts, options: PlanningOptions): PlanningReport {
  const quick = run(facts, false, options);
  const sound = quick.reserves.every((stage) => stage.every(({ reserve, required }) => reserve >= required));
  const turns = facts.scene.cell.table.turntable !== undefined;
  const refused = !quick.search.best && (quick.search.counters.refused > 0 || turns);
  return sound && !refused ? quick : run(facts, true, options);
}

/** One search. `thorough`: every state of the assembly is judged, and parts may be held longer than they need by themselves. */
function run(
  facts: Facts,
  thorough: boolean,
  { budget, onProgress, onRefusal }: PlanningOptions,
): PlanningReport {
  const completer = new OrderCompleter(facts, thorough);
  const problem = new OrderProblem(facts, completer, onRefusal, thorough);
  const fallen = new RefusalTally();
  const report = search(problem, {
    budget: budget(),
    ...(onProgress ? { onProgress } : {}),
    onRefusal: ({ reason }) => fallen.add(reason as Refusal),
  });
  const { search: final, tackOrders } = reordered(facts, completer, report);
  const reserves = final.best ? completer.reservesOf(final.best.result) : [];
  return { facts, search: final, tackOrders, reserves, orderRefusals: fallen.mostFrequent() };
}
