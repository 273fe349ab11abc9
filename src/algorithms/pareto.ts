import type { Cost } from './cost.js';

const dominates = (a: Cost, b: Cost): boolean =>
  a.every((value, i) => value <= b[i]!) && a.some((value, i) => value < b[i]!);

/**
 * Those of which no other is at least as good in every value and better in one, the least first value first. Of several
 * with the same values only the first is kept.
 */
export function nonDominated<Item>(items: readonly Item[], valuesOf: (item: Item) => Cost): readonly Item[] {
  const seen = new Set<string>();
  return items
    .filter((item) => !items.some((other) => dominates(valuesOf(other), valuesOf(item))))
    .filter((item) => {
      const key = valuesOf(item).join();
      return !seen.has(key) && seen.add(key);
    })
    .sort((a, b) => valuesOf(a)[0]! - valuesOf(b)[0]!);
}
