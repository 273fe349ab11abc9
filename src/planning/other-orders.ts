import type { Completion, Refused, SearchProblem } from '../algorithms/problem.js';
import type { CompletedOrders } from './completed-orders.js';
import { distortionKey } from './distortion-key.js';
import type { CompleteOrder } from './complete.js';
import type { OrderProblem } from './order-problem.js';
import type { OrderState } from './order-state.js';
import type { StageDraft } from './stage-draft.js';

/** Why an order is not given again. */
export const KNOWN_ORDER = 'known-order';

/** The order of a weldment without those orders whose distortion is known: the search then finds the next best. */
export class OtherOrders implements SearchProblem<OrderState, StageDraft, CompleteOrder> {
  readonly terms: number;
  readonly start: OrderState;
  readonly layers: number;
  /** How many orders were turned away because they are known. */
  met = 0;

  /**
   * @param known texts of `distortionKey`
   * @param orders is given every order that is completed
   */
  constructor(
    private readonly problem: OrderProblem,
    private readonly known: ReadonlySet<string>,
    private readonly orders: CompletedOrders,
  ) {
    ({ terms: this.terms, start: this.start, layers: this.layers } = problem);
  }

  layer(state: OrderState): number {
    return this.problem.layer(state);
  }

  transitions(state: OrderState): ReturnType<OrderProblem['transitions']> {
    return this.problem.transitions(state);
  }

  candidates(state: OrderState): ReturnType<OrderProblem['candidates']> {
    return this.problem.candidates(state);
  }

  key(state: OrderState): string {
    return this.problem.key(state);
  }

  bound(state: OrderState): ReturnType<OrderProblem['bound']> {
    return this.problem.bound(state);
  }

  refusedAlready(drafts: readonly StageDraft[]): Refused | undefined {
    return this.problem.refusedAlready(drafts);
  }

  complete(drafts: readonly StageDraft[]): Completion<CompleteOrder> {
    if (this.known.has(distortionKey(drafts))) {
      this.met += 1;
      return { kind: 'refused', depth: drafts.length, reason: { code: KNOWN_ORDER, subjects: [] } };
    }
    const said = this.problem.complete(drafts);
    if (said.kind === 'legal') this.orders.add(said.result);
    return said;
  }
}
