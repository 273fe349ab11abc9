import { compareCost, type Cost } from '../algorithms/cost.js';
import type { Clock } from '../base/budget.js';

/** Notes when plans were found, in seconds since it was made. */
export class Stopwatch {
  private readonly startedAt: number;
  private best: Cost | undefined;
  firstSeconds: number | undefined;
  bestSeconds: number | undefined;

  constructor(private readonly clock: Clock) {
    this.startedAt = clock();
  }

  get seconds(): number {
    return this.clock() - this.startedAt;
  }

  /** A legal plan of this cost is there. Whether it is better than all before. */
  found(cost: Cost): boolean {
    if (this.best !== undefined && compareCost(cost, this.best) >= 0) return false;
    this.best = cost;
    this.bestSeconds = this.seconds;
    this.firstSeconds ??= this.bestSeconds;
    return true;
  }
}
