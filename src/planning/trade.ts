import { compareCost, zeroCost } from '../algorithms/cost.js';
import { nonDominated } from '../algorithms/pareto.js';
import { costOf, type CompleteOrder } from './complete.js';
import { inOrder, planObjective } from './objective.js';
import { finished, isSound, type PlanningReport } from './plan.js';
import { ledBy, type TradedTerms } from './traded-terms.js';

/** Plans between two terms. */
export interface TradedOrders {
  /** How many complete orders they are the best of. */
  readonly completed: number;
  /** Least of the first term first. Nothing is claimed of them as proved but that they are legal. */
  readonly reports: readonly PlanningReport[];
}

const orderOf = ({ search }: PlanningReport): CompleteOrder => search.best!.result;

/**
 * The plans of which no other one is as good in both terms and better in one, among all orders completed in finding the
 * given plan and in two more searches, with either term first, so that both ends are there. The tacks of each are ordered
 * anew as those of the plan are, which may change what it costs; one that does not carry a state that only a whole plan
 * is judged by is left out; then again only those are left that no other one beats.
 */
export function tradedOrders(report: PlanningReport, terms: TradedTerms): TradedOrders {
  const { facts, run } = report;
  const objective = planObjective(facts);
  const [first, second] = terms;
  run.best(ledBy([first, second], objective));
  run.best(ledBy([second, first], objective));
  const values = (order: CompleteOrder) => inOrder(terms, costOf(order));
  const byObjective = (a: CompleteOrder, b: CompleteOrder): number =>
    compareCost(inOrder(objective, costOf(a)), inOrder(objective, costOf(b)));
  const candidates = nonDominated([...run.orders.undominated].sort(byObjective), values);
  const reports = [
    report,
    ...candidates
      .filter((order) => order !== report.search.best?.result)
      .map((order) => inFull(report, order))
      .filter(isSound),
  ];
  return {
    completed: run.orders.count,
    reports: nonDominated(reports, (one) => values(orderOf(one))),
  };
}

/** An order as a report of its own. */
function inFull({ facts, run, search }: PlanningReport, order: CompleteOrder): PlanningReport {
  const cost = inOrder(planObjective(facts), costOf(order));
  return finished(facts, run, {
    ...search,
    ...{ outcome: 'feasible', best: { steps: order.stages, cost, result: order } },
    ...{ bound: zeroCost(cost.length), provedTerms: 0 },
  });
}
