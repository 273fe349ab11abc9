import { compareText } from '../base/order.js';
import type { Refusal } from '../model/verdict.js';

/** How far a refused reserve is from the one that was asked for, or a gap from what it may be, as a ratio; 0 is farthest. */
function nearness({ value = 0, limit = 1 }: Refusal): number {
  return value > limit ? limit / value : value / limit;
}

/** Counts refusals by code and first two subjects (part and state), and keeps the nearest miss of each. */
export class RefusalTally {
  private readonly rows = new Map<string, { count: number; nearest: Refusal }>();

  add(refusal: Refusal): void {
    const key = [refusal.code, ...refusal.subjects.slice(0, 2)].join('\n');
    const row = this.rows.get(key);
    if (row === undefined) {
      this.rows.set(key, { count: 1, nearest: refusal });
      return;
    }
    row.count += 1;
    if (nearness(refusal) > nearness(row.nearest)) row.nearest = refusal;
  }

  mostFrequent(): readonly Refusal[] {
    return [...this.rows.entries()]
      .sort(([a, p], [b, q]) => q.count - p.count || compareText(a, b))
      .map(([, { nearest }]) => nearest);
  }
}
