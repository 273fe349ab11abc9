import { compareCost, earlierCost, equalTerms, laterCost, zeroCost, type Cost } from '../algorithms/cost.js';
import type { SearchBest, SearchCounters, SearchReport } from '../algorithms/problem.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { CompletedOrders } from './completed-orders.js';
import { distortionKey } from './distortion-key.js';
import { costOf, type CompleteOrder } from './complete.js';
import { inOrder } from './objective.js';
import type { OrderProblem } from './order-problem.js';
import { OtherOrders } from './other-orders.js';
import type { StageDraft } from './stage-draft.js';

export type OrderReport = SearchReport<StageDraft, CompleteOrder>;

/** How the best order is looked for. */
export interface OrderSearches {
  readonly objective: readonly ObjectiveTerm[];
  /** A legal order that the first search shall better. */
  readonly known?: CompleteOrder | undefined;
  /** How many orders are looked for at most as long as none keeps the limits of distortion, in each of the two ways. */
  readonly most: number;
  /** The order as a search problem in which no move costs distortion, and the one that estimates it. */
  readonly plain: () => OrderProblem;
  readonly estimating: () => OrderProblem;
  /** Whether any move was estimated above 0. */
  readonly everEstimated: () => boolean;
  /** What is `known` is legal, and only what costs less is looked for. */
  readonly search: (
    problem: OtherOrders,
    known: SearchBest<StageDraft, CompleteOrder> | undefined,
  ) => OrderReport;
  /** Every order that a search completes, with its distortion by the full engine. */
  readonly orders: CompletedOrders;
}

/** One search, and what its bound speaks of. */
interface Searched {
  readonly report: OrderReport;
  /** Whether its moves cost an estimate of distortion, which bounds nothing. */
  readonly estimated: boolean;
  readonly met: number;
}

/**
 * The best order by what the full engine says of its distortion. The first search counts no distortion: where its best
 * order keeps every limit, nothing can be better, and no estimate was needed. Otherwise the best orders are taken one by
 * one, each by a search that leaves out those before, led by the estimate; and where one of them keeps the limits, the
 * first search goes on in the same way, so that what is proved does not rest on the estimate. Chosen is the best of
 * all orders that were completed on the way.
 */
export function bestOrder(searches: OrderSearches): OrderReport {
  const { objective, most, orders } = searches;
  const place = objective.indexOf('distortion');
  const run = new Run(searches);
  run.look(false, 1);
  const keepsLimits = (): boolean => place < 0 || orders.best(objective)?.distortion === 0;
  if (orders.best(objective) === undefined || keepsLimits()) return run.report();
  run.look(true, most - 1);
  if (keepsLimits() && run.report().outcome !== 'optimal') run.look(false, most - 1);
  return run.report();
}

class Run {
  private readonly done: Searched[] = [];
  /** Orders that are not looked for again; each exceeds the limits. */
  private readonly known = new Set<string>();

  constructor(private readonly searches: OrderSearches) {}

  /** Looks for the next best order, and again as long as the limits are exceeded. */
  look(estimating: boolean, times: number): void {
    const { searches, known } = this;
    for (let count = 0; count < times; count += 1) {
      const problem = new OtherOrders(
        estimating ? searches.estimating() : searches.plain(),
        known,
        searches.orders,
      );
      const report = searches.search(problem, this.beginning());
      this.done.push({ report, estimated: estimating && searches.everEstimated(), met: problem.met });
      if (report.best === undefined || report.best.result.distortion === 0) return;
      if (this.isBeaten(report.best.result)) return;
      known.add(distortionKey(report.best.steps));
    }
  }

  /** What the first search begins with, if it keeps the limits of distortion, which that search does not count. */
  private beginning(): SearchBest<StageDraft, CompleteOrder> | undefined {
    const { objective, known } = this.searches;
    if (known === undefined || known.distortion > 0 || this.done.length > 0) return undefined;
    return { steps: known.stages, cost: inOrder(objective, costOf(known)), result: known };
  }

  /** Whether what comes before the distortion is dearer than in the best order: then all further ones are beaten too. */
  private isBeaten(order: CompleteOrder): boolean {
    const { objective, orders } = this.searches;
    const ahead = objective.slice(0, Math.max(0, objective.indexOf('distortion')));
    const best = orders.best(objective)!;
    return compareCost(inOrder(ahead, costOf(order)), inOrder(ahead, costOf(best))) > 0;
  }

  report(): OrderReport {
    const { objective, orders } = this.searches;
    const order = orders.best(objective);
    const [first] = this.done;
    const counters = this.counters();
    if (order === undefined) return { ...first!.report, counters };
    const cost = inOrder(objective, costOf(order));
    const bound = this.bound(cost);
    const provedTerms = equalTerms(cost, bound);
    return {
      outcome: provedTerms === cost.length ? 'optimal' : 'feasible',
      best: { steps: order.stages, cost, result: order },
      ...{ bound, provedTerms, counters, improvements: first!.report.improvements },
    };
  }

  /**
   * What no order costs less than, given the cost of the best. A search speaks of all orders but those known before it.
   * Those cost no less than the best one if each was the least of those with its distortion, as a search that ended
   * with a proof says; the bound of a search after one that did not is left aside.
   */
  private bound(best: Cost): Cost {
    let bound = zeroCost(best.length);
    for (const { report, estimated } of this.done) {
      const spoken = estimated ? this.withoutEstimate(report.bound) : report.bound;
      bound = laterCost(bound, earlierCost(best, spoken));
      if (report.outcome !== 'optimal') break;
    }
    return bound;
  }

  /** Only what comes before the distortion; where no order is left at all, that stays so. */
  private withoutEstimate(bound: Cost): Cost {
    const place = this.searches.objective.indexOf('distortion');
    return bound[0] === Infinity ? bound : bound.map((term, i) => (i < place ? term : 0));
  }

  private counters(): SearchCounters {
    const sum = (of: (counters: Readonly<SearchCounters>) => number): number =>
      this.done.reduce((total, { report }) => total + of(report.counters), 0);
    return {
      expanded: sum(({ expanded }) => expanded),
      generated: sum(({ generated }) => generated),
      completed: this.searches.orders.count,
      refused: sum(({ refused }) => refused) - this.done.reduce((total, { met }) => total + met, 0),
      pruned: sum(({ pruned }) => pruned),
      dominated: sum(({ dominated }) => dominated),
      released: sum(({ released }) => released),
      dropped: sum(({ dropped }) => dropped),
    };
  }
}
