import type { Budget } from '../base/budget.js';
import { EndingBudget } from '../base/ending-budget.js';

/**
 * Seconds that a search leaves for what follows it: reserves solved from nothing, tacks ordered anew, the document and
 * every rule. Nobody knows before how long that takes; it asks much the same of the same weldment as the way to
 * the first whole order did, so as long as that took is left (our choice, an estimate; measured: about as long with 40 parts, less with few).
 * Without a limit in seconds nothing is left, and steps count as they always do.
 */
export class TimeToFinish {
  private readonly begun: Budget;
  private needed: number | undefined;

  /** Made when planning begins; `found` tells whether there is a whole order. */
  constructor(
    begin: () => Budget,
    private readonly found: () => boolean,
  ) {
    this.begun = begin();
  }

  /** Whether no more is left than a share of what finishing is thought to take. */
  isDue(share: number): boolean {
    const left = this.begun.secondsLeft;
    if (left === undefined || !this.found()) return false;
    this.needed ??= this.begun.spent;
    return left < share * this.needed;
  }

  /** Whether the seconds are spent or a stop was asked for. */
  get isOver(): boolean {
    return this.begun.exhaustedBy() !== undefined;
  }

  /** The budget of a search that ends in time. */
  within(whole: Budget): Budget {
    return new EndingBudget(whole, () => (this.isDue(1) ? 'seconds' : undefined));
  }
}
