import type { SearchProblem } from '../algorithms/problem.js';
import type { CompleteOrder } from './complete.js';
import type { OrderState } from './order-state.js';
import type { StageDraft } from './stage-draft.js';

type Orders = SearchProblem<OrderState, StageDraft, CompleteOrder>;

/** The state with most parts in place that searches came to; the first of equals. */
export class DeepestState {
  private deepest: OrderState | undefined;

  /** Undefined before anything was looked at. */
  get state(): OrderState | undefined {
    return this.deepest;
  }

  /** The same problem, whose states are noted as they are looked at. */
  watching(problem: Orders): Orders {
    const note = (state: OrderState): void => {
      if (this.deepest === undefined || state.count > this.deepest.count) this.deepest = state;
    };
    return {
      ...{ terms: problem.terms, start: problem.start, layers: problem.layers },
      layer: (state) => problem.layer(state),
      key: (state) => problem.key(state),
      bound: (state) => problem.bound(state),
      ...(problem.complete && { complete: (drafts) => problem.complete!(drafts) }),
      ...(problem.refusedAlready && { refusedAlready: (drafts) => problem.refusedAlready!(drafts) }),
      transitions: (state) => {
        note(state);
        return problem.transitions(state);
      },
      ...(problem.candidates && {
        candidates: (state) => {
          note(state);
          return problem.candidates!(state);
        },
      }),
    };
  }
}
