import { search } from '../algorithms/search.js';
import type { SearchProgress } from '../algorithms/problem.js';
import type { Budget } from '../base/budget.js';
import type { Facts } from '../facts/facts.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { bestOrder, type OrderReport } from './best-order.js';
import { OrderCompleter } from './complete.js';
import { CompletedOrders } from './completed-orders.js';
import { DistortionProxy } from './distortion-proxy.js';
import { OrderProblem, type OrderGuide, type RefusalListener } from './order-problem.js';
import { KNOWN_ORDER } from './other-orders.js';
import { RefusalTally } from './refusal-tally.js';

export interface PlanningOptions {
  /** Makes the budget of one search. */
  readonly budget: () => Budget;
  readonly onRefusal?: RefusalListener | undefined;
  readonly onProgress?: ((progress: SearchProgress) => void) | undefined;
}

/** Searches of the order of one weldment, which keep what they complete. */
export class OrderRun {
  readonly orders = new CompletedOrders();
  readonly completer: OrderCompleter;
  private readonly proxy: DistortionProxy;
  private readonly fallen = new RefusalTally();

  /** `thorough`: every state of the assembly is judged, and parts may be held longer than they need by themselves. */
  constructor(
    private readonly facts: Facts,
    private readonly thorough: boolean,
    private readonly options: PlanningOptions,
  ) {
    this.completer = new OrderCompleter(facts, thorough);
    this.proxy = new DistortionProxy(facts);
  }

  /** The best order by an objective. */
  best(objective: readonly ObjectiveTerm[]): OrderReport {
    const { orders, proxy, facts } = this;
    const { budget, onProgress } = this.options;
    return bestOrder({
      ...{ objective, orders, most: facts.settings.distortion['orders-judged'] },
      plain: () => this.problem({ objective }),
      estimating: () => this.problem({ objective, proxy }),
      everEstimated: () => proxy.everAbove,
      search: (problem) =>
        search(problem, {
          budget: budget(),
          ...(onProgress ? { onProgress } : {}),
          onRefusal: ({ reason }) => {
            if ((reason as Refusal).code !== KNOWN_ORDER) this.fallen.add(reason as Refusal);
          },
        }),
    });
  }

  /** Why whole orders were refused, each part and state once with its nearest miss, most frequent first. */
  refusals(): readonly Refusal[] {
    return this.fallen.mostFrequent();
  }

  private problem(guide: OrderGuide): OrderProblem {
    return new OrderProblem(this.facts, this.completer, this.options.onRefusal, this.thorough, guide);
  }
}
