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
  /** Milliseconds that an order saves at least to be better than the known one, where the time is the last term; none when left out. */
  readonly saving?: number | undefined;
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
  const { objective, most } = searches;
  const place = objective.indexOf('distortion');
  const run = new Run(searches);
  run.look(false, 1);
  const keepsLimits = (): boolean => place < 0 || run.best?.distortion === 0;
  if (run.best === undefined || keepsLimits()) return run.report();
  run.look(true, most - 1);
  if (keepsLimits() && run.report().outcome !== 'optimal') run.look(false, most - 1);
  return run.report();
}

class Run {
  private readonly done: Searched[] = [];
  /** Orders that are not looked for again; each exceeds the limits. */
  private readonly known = new Set<string>();
  /** What the first search begins with: the order that is known, at the cost from which on no other is better. */
  private readonly beginning: SearchBest<StageDraft, CompleteOrder> | undefined;

  constructor(private readonly searches: OrderSearches) {
    this.beginning = beginningOf(searches);
  }

  /** Of all orders; the known one where no other is better by as much as it must be. */
  get best(): CompleteOrder | undefined {
    const { objective, orders } = this.searches;
    const best = orders.best(objective);
    if (best === undefined || this.beginning === undefined) return best;
    const { cost, result } = this.beginning;
    return compareCost(inOrder(objective, costOf(best)), cost) < 0 ? best : result;
  }

  /** Looks for the next best order, and again as long as the limits are exceeded. */
  look(estimating: boolean, times: number): void {
    const { searches, known } = this;
    for (let count = 0; count < times; count += 1) {
      const problem = new OtherOrders(
        estimating ? searches.estimating() : searches.plain(),
        known,
        searches.orders,
      );
      const report = searches.search(problem, this.done.length === 0 ? this.beginning : undefined);
      this.done.push({ report, estimated: estimating && searches.everEstimated(), met: problem.met });
      if (report.best === undefined || report.best.result.distortion === 0) return;
      if (this.isBeaten(report.best.result)) return;
      known.add(distortionKey(report.best.steps));
    }
  }

  /** Whether what comes before the distortion is dearer than in the best order: then all further ones are beaten too. */
  private isBeaten(order: CompleteOrder): boolean {
    const { objective } = this.searches;
    const ahead = objective.slice(0, Math.max(0, objective.indexOf('distortion')));
    return compareCost(inOrder(ahead, costOf(order)), inOrder(ahead, costOf(this.best!))) > 0;
  }

  report(): OrderReport {
    const { objective } = this.searches;
    const order = this.best;
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

/** None where the known order exceeds the limits of distortion, which the first search does not count. */
function beginningOf({
  objective,
  known,
  saving = 0,
}: OrderSearches): SearchBest<StageDraft, CompleteOrder> | undefined {
  if (known === undefined || known.distortion > 0) return undefined;
  const last = objective.length - 1;
  const cost = inOrder(objective, costOf(known)).map((value, i) =>
    i === last && objective[i] === 'time' ? value - saving : value,
  );
  return { steps: known.stages, cost, result: known };
}
