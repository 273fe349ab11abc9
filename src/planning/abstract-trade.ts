import { zeroCost, type Cost } from '../algorithms/cost.js';
import { nonDominated } from '../algorithms/pareto.js';
import type { SearchReport } from '../algorithms/problem.js';
import type { Budget } from '../base/budget.js';
import type { ObjectiveTerm, Settings } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { abstractObjective, planAbstract } from './abstract-plan.js';
import type { AbstractStep } from './abstract-problem.js';
import { ledBy, type TradedTerms } from './traded-terms.js';

type Report = SearchReport<AbstractStep, undefined>;

/**
 * The plans of a weldment without shapes of which no other one is as good in both terms and better in one, among the best
 * by its own objective and with either term first. Nothing is claimed of the others as proved but that they are legal.
 */
export function tradedAbstractly(
  report: Report,
  weldment: AbstractWeldment,
  settings: Settings,
  { terms, budget }: { readonly terms: TradedTerms; readonly budget: () => Budget },
): { readonly completed: number; readonly reports: readonly Report[] } {
  const objective = abstractObjective(weldment, settings);
  const others = [terms, [terms[1], terms[0]] as const].flatMap((order): Report[] => {
    const led = ledBy(order, objective);
    const { best, counters } = planAbstract(
      weldment,
      { ...settings, objective: [...led] },
      { budget: budget() },
    );
    if (best === undefined) return [];
    const cost = inOrderOf(objective, led, best.cost);
    return [
      {
        ...report,
        ...{
          outcome: 'feasible',
          best: { ...best, cost },
          bound: zeroCost(cost.length),
          provedTerms: 0,
          counters,
        },
      },
    ];
  });
  const reports = [report, ...others];
  const different = new Set(reports.map(({ best }) => JSON.stringify(best!.steps)));
  return {
    completed: different.size,
    reports: nonDominated(reports, ({ best }) => inOrderOf(terms, objective, best!.cost)),
  };
}

/** The values of a cost, given in one order of terms, in another. */
const inOrderOf = (wanted: readonly ObjectiveTerm[], given: readonly ObjectiveTerm[], cost: Cost): Cost =>
  wanted.map((term) => cost[given.indexOf(term)]!);
