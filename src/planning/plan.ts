import type { LinearPrograms } from '../algorithms/linear-program.js';
import { Facts } from '../facts/facts.js';
import type { Cell } from '../model/cell.js';
import { buildScene } from '../model/scene.js';
import type { PlanReserve } from '../model/plan.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Weldment } from '../model/weldment.js';
import type { OrderReport } from './best-order.js';
import { planObjective } from './objective.js';
import { OrderRun, type PlanningOptions } from './order-run.js';
import { reordered, type Reordered } from './reordered.js';

/** What planning a weldment came to: the facts it used and what the search says. */
export interface PlanningReport {
  readonly facts: Facts;
  /** The searches, for more of them. */
  readonly run: OrderRun;
  readonly search: OrderReport;
  /** What the search came to before tacks were ordered anew, where that changed a cost. */
  readonly before: Reordered['before'];
  /** How the orders of the tacks of each stage compare; undefined for fewer than two. */
  readonly tackOrders: Reordered['tackOrders'];
  /** Reserves of each stage of the best order. */
  readonly reserves: readonly (readonly PlanReserve[])[];
  /** Why whole orders were refused, each part and state once with its nearest miss, most frequent first. */
  readonly orderRefusals: readonly Refusal[];
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
  const quick = planned(facts, false, options);
  const turns = facts.scene.cell.table.turntable !== undefined;
  const refused = !quick.search.best && (quick.search.counters.refused > 0 || turns);
  return isSound(quick) && !refused ? quick : planned(facts, true, options);
}

/** Whether every state of the best order carries what it must, also those that the completion of orders leaves out. */
export const isSound = ({ reserves }: Pick<PlanningReport, 'reserves'>): boolean =>
  reserves.every((stage) => stage.every(({ reserve, required }) => reserve >= required));

/** The best order of the settings' objective. */
function planned(facts: Facts, thorough: boolean, options: PlanningOptions): PlanningReport {
  const run = new OrderRun(facts, thorough, options);
  return finished(facts, run, run.best(planObjective(facts)));
}

/** What a search found, with its tacks ordered anew and its reserves. */
export function finished(facts: Facts, run: OrderRun, found: OrderReport): PlanningReport {
  const { search, before, tackOrders } = reordered(facts, run.completer, found, () => run.isHurried());
  const reserves = search.best ? run.completer.reservesOf(search.best.result) : [];
  return { facts, run, search, before, tackOrders, reserves, orderRefusals: run.refusals() };
}
