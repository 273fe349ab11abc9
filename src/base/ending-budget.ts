import { Budget } from './budget.js';

/** A budget that ends with another one, of which it spends the steps, and earlier by something else. */
export class EndingBudget extends Budget {
  constructor(
    private readonly whole: Budget,
    /** Why it ends now though the whole has not, if so. */
    private readonly ends: () => 'seconds' | 'stop' | undefined,
  ) {
    super({ steps: Infinity });
  }

  override take(): boolean {
    return this.exhaustedBy() === undefined && super.take() && this.whole.take();
  }

  override exhaustedBy(): ReturnType<Budget['exhaustedBy']> {
    return this.whole.exhaustedBy() ?? this.ends();
  }
}
