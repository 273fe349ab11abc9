import { compareCost } from '../algorithms/cost.js';
import { nonDominated } from '../algorithms/pareto.js';
import { objectiveTermSchema, type ObjectiveTerm } from '../model/settings.js';
import { costOf, type CompleteOrder } from './complete.js';
import { distortionKey } from './distortion-key.js';
import { inOrder } from './objective.js';

const TERMS = objectiveTermSchema.options;

/** Tells two orders apart that cost the same. */
const orderKey = (order: CompleteOrder): string => {
  const ways = order.stages.map((draft) => (draft.manual ? '' : `${draft.way.grip.id} ${draft.way.regrips}`));
  return `${distortionKey(order.stages)} ${ways.join()} ${order.raw.makespan}`;
};

/**
 * The whole orders that all searches of a planning run completed, with what they really cost. Only those are kept that no
 * other one is as good as in every term; the others are counted.
 */
export class CompletedOrders {
  private readonly seen = new Set<string>();
  private orders: readonly CompleteOrder[] = [];

  add(order: CompleteOrder): void {
    const key = orderKey(order);
    if (this.seen.has(key)) return;
    this.seen.add(key);
    this.orders = nonDominated([...this.orders, order], (one) => inOrder(TERMS, costOf(one)));
  }

  get count(): number {
    return this.seen.size;
  }

  /** Those that are best for some objective or trade. */
  get undominated(): readonly CompleteOrder[] {
    return this.orders;
  }

  /** The one that costs least by an objective, of equals that which was found first; undefined if there is none. */
  best(objective: readonly ObjectiveTerm[]): CompleteOrder | undefined {
    return this.orders.reduce<CompleteOrder | undefined>(
      (best, next) =>
        best === undefined ||
        compareCost(inOrder(objective, costOf(next)), inOrder(objective, costOf(best))) < 0
          ? next
          : best,
      undefined,
    );
  }
}
