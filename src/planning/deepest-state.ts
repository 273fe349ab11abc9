import type { OrderState } from './order-state.js';

/** The state with most parts in place that searches came to; the first of equals. */
export class DeepestState {
  private deepest: OrderState | undefined;

  /** Undefined before anything was looked at. */
  get state(): OrderState | undefined {
    return this.deepest;
  }

  note(state: OrderState): void {
    if (this.deepest === undefined || state.count > this.deepest.count) this.deepest = state;
  }
}
