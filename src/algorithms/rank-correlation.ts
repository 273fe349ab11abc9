/** Ranks from 1, least first; equal values share the mean of the ranks that they take up together. */
export function midRanks(values: readonly number[]): readonly number[] {
  const order = values.map((_, i) => i).sort((i, j) => values[i]! - values[j]! || i - j);
  const ranks = new Array<number>(values.length);
  for (let from = 0; from < order.length;) {
    let to = from;
    while (to < order.length && values[order[to]!] === values[order[from]!]) to += 1;
    for (let k = from; k < to; k += 1) ranks[order[k]!] = (from + to + 1) / 2;
    from = to;
  }
  return ranks;
}

/**
 * Spearman's rank correlation: Pearson's correlation of the ranks, which holds with ties too (M. G. Kendall, Rank
 * Correlation Methods, 1948). From -1 to 1; NaN where one of the two says nothing because all its values are equal.
 *
 * @throws RangeError where the lists differ in length
 */
export function spearman(xs: readonly number[], ys: readonly number[]): number {
  sameLength(xs, ys);
  const [a, b] = [midRanks(xs), midRanks(ys)];
  const middle = (xs.length + 1) / 2;
  const product = (p: readonly number[], q: readonly number[]): number =>
    p.reduce((sum, rank, i) => sum + (rank - middle) * (q[i]! - middle), 0);
  return product(a, b) / Math.sqrt(product(a, a) * product(b, b));
}

/**
 * Kendall's tau-b: pairs that both lists order alike less those that they order against each other, over the geometric
 * mean of the pairs that each of them orders at all (M. G. Kendall 1945, on ties). From -1 to 1; NaN as for `spearman`.
 *
 * @throws RangeError where the lists differ in length
 */
export function kendall(xs: readonly number[], ys: readonly number[]): number {
  sameLength(xs, ys);
  let [alike, inX, inY] = [0, 0, 0];
  for (let i = 0; i < xs.length; i += 1)
    for (let j = 0; j < i; j += 1) {
      const x = Math.sign(xs[i]! - xs[j]!);
      const y = Math.sign(ys[i]! - ys[j]!);
      alike += x * y;
      inX += x * x;
      inY += y * y;
    }
  return alike / Math.sqrt(inX * inY);
}

function sameLength(xs: readonly number[], ys: readonly number[]): void {
  if (xs.length !== ys.length) throw new RangeError(`${xs.length} values beside ${ys.length}.`);
}
