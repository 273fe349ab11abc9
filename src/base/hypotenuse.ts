/**
 * Length of the hypotenuse over two legs, both finite: to the last bit what `Math.hypot` of V8 gives (legs by the longer
 * one, then squares), without the list that it makes of its arguments each time.
 */
export function hypotenuse(a: number, b: number): number {
  const longest = Math.max(Math.abs(a), Math.abs(b));
  if (longest === 0) return 0;
  const x = a / longest;
  const y = b / longest;
  return Math.sqrt(x * x + y * y) * longest;
}

/** The same over three legs, summed as there: what the first sum has lost is put back. */
export function diagonal(a: number, b: number, c: number): number {
  const longest = Math.max(Math.abs(a), Math.abs(b), Math.abs(c));
  if (longest === 0) return 0;
  const x = a / longest;
  const y = b / longest;
  const z = c / longest;
  const sum = x * x + y * y;
  const lost = sum - x * x - y * y;
  return Math.sqrt(sum + (z * z - lost)) * longest;
}
