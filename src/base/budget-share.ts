import { Budget } from './budget.js';

/** A part of another budget: what it spends, the other one spends too, and it ends when the other one does. */
export class BudgetShare extends Budget {
  constructor(
    private readonly whole: Budget,
    steps: number,
  ) {
    super({ steps });
  }

  override take(): boolean {
    return super.take() && this.whole.take();
  }

  override exhaustedBy(): 'steps' | 'seconds' | 'stop' | undefined {
    return super.exhaustedBy() ?? this.whole.exhaustedBy();
  }
}
