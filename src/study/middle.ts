/** The middle value, or the mean of the two in the middle; undefined of nothing. Infinite values are allowed. */
export function median(values: readonly number[]): number | undefined {
  if (values.length === 0) return undefined;
  const sorted = [...values].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
  const half = sorted.length >>> 1;
  const [low, high] = [sorted[sorted.length % 2 === 0 ? half - 1 : half]!, sorted[half]!];
  return low === high ? low : (low + high) / 2;
}
