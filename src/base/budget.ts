/** Seconds since some fixed moment; handed in by the edge, never read inside the core. */
export type Clock = () => number;

/** What a search may spend: steps first (repeatable), then seconds (not repeatable), then a stop request. */
export interface BudgetLimits {
  readonly steps: number;
  readonly seconds?: number | undefined;
  readonly clock?: Clock | undefined;
  readonly stopRequested?: (() => boolean) | undefined;
}

/** Counts steps and says when to stop, and by which limit. */
export class Budget {
  private used = 0;
  private readonly startedAt: number;

  constructor(private readonly limits: BudgetLimits) {
    this.startedAt = limits.clock?.() ?? 0;
  }

  /** Spends one step; false when the budget is exhausted and the step must not be taken. */
  take(): boolean {
    if (this.exhaustedBy() !== undefined) return false;
    this.used += 1;
    return true;
  }

  get steps(): number {
    return this.used;
  }

  /** Seconds since it was made; 0 without a clock. */
  get spent(): number {
    return (this.limits.clock?.() ?? 0) - this.startedAt;
  }

  /** Seconds that are left; undefined without a limit or a clock. */
  get secondsLeft(): number | undefined {
    const { seconds, clock } = this.limits;
    return seconds === undefined || clock === undefined ? undefined : seconds - this.spent;
  }

  exhaustedBy(): 'steps' | 'seconds' | 'stop' | undefined {
    if (this.used >= this.limits.steps) return 'steps';
    if (this.limits.stopRequested?.() === true) return 'stop';
    const left = this.secondsLeft;
    return left !== undefined && left <= 0 ? 'seconds' : undefined;
  }
}
