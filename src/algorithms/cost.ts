/**
 * A vector of integers of fixed length, most important term first, compared lexicographically and added term
 * by term. Adding the same vector to both sides never changes a comparison, which is what makes bounds add up.
 */
export type Cost = readonly number[];

export const zeroCost = (terms: number): Cost => new Array<number>(terms).fill(0);

/** Later than every real cost: the cost of what cannot be reached. */
export const unreachableCost = (terms: number): Cost => new Array<number>(terms).fill(Infinity);

/** Negative, zero or positive as `a` comes before, equals or comes after `b`; infinite terms are allowed. */
export function compareCost(a: Cost, b: Cost): number {
  for (let i = 0; i < a.length; i += 1) {
    if (a[i]! < b[i]!) return -1;
    if (a[i]! > b[i]!) return 1;
  }
  return 0;
}

export const addCost = (a: Cost, b: Cost): Cost => a.map((term, i) => term + b[i]!);

/** `a - b`; only `a` may be infinite. */
export const subtractCost = (a: Cost, b: Cost): Cost => a.map((term, i) => term - b[i]!);

export const laterCost = (a: Cost, b: Cost): Cost => (compareCost(a, b) < 0 ? b : a);

export const earlierCost = (a: Cost, b: Cost): Cost => (compareCost(a, b) <= 0 ? a : b);

/** How many leading terms are equal. */
export function equalTerms(a: Cost, b: Cost): number {
  let count = 0;
  while (count < a.length && a[count] === b[count]) count += 1;
  return count;
}
