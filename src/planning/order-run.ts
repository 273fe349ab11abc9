import { equalTerms, type Cost } from '../algorithms/cost.js';
import { search } from '../algorithms/search.js';
import type { SearchProgress } from '../algorithms/problem.js';
import type { Budget } from '../base/budget.js';
import { EndingBudget } from '../base/ending-budget.js';
import type { Facts } from '../facts/facts.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { bestOrder, type OrderReport } from './best-order.js';
import { costOf, OrderCompleter } from './complete.js';
import { CompletedOrders } from './completed-orders.js';
import { DistortionProxy } from './distortion-proxy.js';
import { inOrder } from './objective.js';
import { OrderBounds } from './order-bounds.js';
import { OrderProblem, type OrderGuide, type RefusalListener } from './order-problem.js';
import { OrderRelations } from './order-relations.js';
import { KNOWN_ORDER } from './other-orders.js';
import { TimeToFinish } from './time-to-finish.js';
import { DeepestState } from './deepest-state.js';
import { RefusalTally } from './refusal-tally.js';
import type { StartWay } from './start-way.js';
import { takenUp } from './warm-start.js';

export interface PlanningOptions {
  /** Makes the budget of one search. */
  readonly budget: () => Budget;
  readonly onRefusal?: RefusalListener | undefined;
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
  /** A way to build that is taken up as far as it is legal, beside what the search finds by itself. */
  readonly from?: StartWay | undefined;
  /** Ways that are taken up in the same way before the first search, which looks for what is better than they are. */
  readonly begin?: readonly StartWay[] | undefined;
  /** Milliseconds that an order saves at least to be better than these ways, where the time is the last term; none when left out. */
  readonly saving?: number | undefined;
  /** Ends as soon as an order costs the least there can be in all terms before the time, one of these ways too. */
  readonly enough?: boolean | undefined;
  /** Ends with the first whole order: for whoever only asks whether there is one. */
  readonly firstOnly?: boolean | undefined;
}

/**
 * From so many parts on the search begins with a dive: below, all candidates of all states on the way to a first plan are
 * judged in seconds, and the plan found by them is better (our choice).
 */
const DIVE_FROM = 12;

/** Whether a cost is proved least in all terms before the time; not where the time comes first. */
function isBestBeforeTime(objective: readonly ObjectiveTerm[], cost: Cost, bound: Cost): boolean {
  const place = objective.indexOf('time');
  return place > 0 && equalTerms(cost, bound) >= place;
}

/** Searches of the order of one weldment, which keep what they complete. */
export class OrderRun {
  readonly orders = new CompletedOrders();
  readonly completer: OrderCompleter;
  readonly deepest = new DeepestState();
  /** What the first search begins with; the next ones begin with nothing. */
  private begun: CompletedOrders | undefined;
  /** Of all its problems. */
  private readonly bounds: OrderBounds;
  private readonly proxy: DistortionProxy;
  private readonly time: TimeToFinish;
  private readonly fallen = new RefusalTally();

  /** `thorough`: every state of the assembly is judged, and parts may be held longer than they need by themselves. */
  constructor(
    private readonly facts: Facts,
    private readonly thorough: boolean,
    private readonly options: PlanningOptions,
  ) {
    this.completer = new OrderCompleter(facts, thorough);
    this.bounds = new OrderBounds(facts, new OrderRelations(facts));
    this.proxy = new DistortionProxy(facts);
    this.time = new TimeToFinish(options.budget, () => this.orders.count > 0);
    this.takeUp(options.from ? [options.from] : []);
    this.begun = this.takeUp(options.begin ?? []);
  }

  private takeUp(ways: readonly StartWay[]): CompletedOrders {
    const taken = new CompletedOrders();
    for (const way of ways) {
      const order = takenUp(this.facts, this.problem({}), way);
      if (order === undefined) continue;
      this.orders.add(order);
      taken.add(order);
    }
    return taken;
  }

  /** The best order by an objective. */
  best(objective: readonly ObjectiveTerm[]): OrderReport {
    const { orders, proxy, facts, time } = this;
    const { budget, onProgress, saving, firstOnly = false } = this.options;
    const known = this.begun?.best(objective);
    this.begun = undefined;
    return bestOrder({
      ...{ known, saving },
      ...{ objective, orders, most: firstOnly ? 1 : facts.settings.distortion['orders-judged'] },
      plain: () => this.problem({ objective }),
      estimating: () => this.problem({ objective, proxy }),
      everEstimated: () => proxy.everAbove,
      search: (problem, best) =>
        search(problem, {
          known: best,
          budget: this.ending(time.within(budget()), objective, problem.bound(problem.start)),
          dive: firstOnly || facts.scene.parts.length >= DIVE_FROM,
          onState: (state) => this.deepest.note(state),
          ...(onProgress ? { onProgress } : {}),
          onRefusal: ({ reason }) => {
            if ((reason as Refusal).code !== KNOWN_ORDER) this.fallen.add(reason as Refusal);
          },
        }),
    });
  }

  /** Whether tacks are ordered anew no longer: half of the time for finishing is left for the rest of it, or a stop was asked for. */
  isHurried(): boolean {
    return this.options.firstOnly === true || this.time.isDue(0.5) || this.time.isOver;
  }

  /** A budget that ends too when what was found is enough, given what no order costs less than. */
  private ending(budget: Budget, objective: readonly ObjectiveTerm[], bound: Cost): Budget {
    const { firstOnly = false, enough = false } = this.options;
    if (!firstOnly && !enough) return budget;
    return new EndingBudget(budget, () => {
      const best = this.orders.best(objective);
      const done =
        best && (firstOnly || isBestBeforeTime(objective, inOrder(objective, costOf(best)), bound));
      return done === true ? 'stop' : undefined;
    });
  }

  /** Why whole orders were refused, each part and state once with its nearest miss, most frequent first. */
  refusals(): readonly Refusal[] {
    return this.fallen.mostFrequent();
  }

  private problem(guide: OrderGuide): OrderProblem {
    const { facts, completer, thorough, bounds, options } = this;
    return new OrderProblem(facts, completer, options.onRefusal, thorough, { ...guide, bounds });
  }
}
