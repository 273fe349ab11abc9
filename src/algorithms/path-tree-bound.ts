/**
 * Lower bounds on the shortest path that visits points once each, from distances that are the same both ways: no path
 * over some points is shorter than their shortest tree. A price on each point (Held and Karp 1970) makes the tree more
 * like a path: with prices added to both ends of every leg, a path grows by twice the sum of the prices less those of its two
 * ends, whatever its order. Prices are found once for all points and serve all subsets of them.
 */
export class PathTreeBound {
  private readonly prices: Float64Array;
  private readonly near: Float64Array;
  private readonly from: Int32Array;
  private readonly waiting: Int32Array;

  /** `distances`: whole numbers from 0, row by row, symmetric. `rounds` of looking for prices. */
  constructor(
    private readonly points: number,
    private readonly distances: Float64Array,
    rounds: number,
  ) {
    this.prices = new Float64Array(points);
    this.near = new Float64Array(points);
    this.from = new Int32Array(points);
    this.waiting = new Int32Array(points);
    this.findPrices(rounds);
  }

  /** The least length of a path over the points for which `left` is 1, in any order, from any to any; rounded up. */
  fromAnywhere(left: Uint8Array): number {
    return whole(this.tree(left) - this.spread(left) + this.cheapestTwo(left));
  }

  /**
   * What `fromOne` needs of a set of points, so that paths from each of them can be bounded in no time: the least length
   * of a path over them, less the price of where it begins.
   */
  openBegin(left: Uint8Array): number {
    let cheapest = Infinity;
    for (let i = 0; i < this.points; i += 1)
      if (left[i] === 1 && this.prices[i]! < cheapest) cheapest = this.prices[i]!;
    return this.tree(left) - this.spread(left) + cheapest;
  }

  /** The least length of a path over the points of `openBegin` that begins at one of them; rounded up. */
  fromOne(openBegin: number, begin: number): number {
    return whole(openBegin + this.prices[begin]!);
  }

  /** The length with prices of the shortest tree over some points (Prim 1957); `degrees` counts its edges. */
  private tree(left: Uint8Array, degrees?: Int32Array): number {
    const { points, distances, prices, near, from, waiting } = this;
    let count = 0;
    for (let i = 0; i < points; i += 1) if (left[i] === 1) waiting[count++] = i;
    near.fill(Infinity);
    let sum = 0;
    let last = count > 0 ? waiting[--count]! : 0;
    while (count > 0) {
      const row = last * points;
      const price = prices[last]!;
      let best = 0;
      for (let k = 0; k < count; k += 1) {
        const i = waiting[k]!;
        const leg = distances[row + i]! + price + prices[i]!;
        if (leg < near[i]!) {
          near[i] = leg;
          from[i] = last;
        }
        if (near[i]! < near[waiting[best]!]!) best = k;
      }
      last = waiting[best]!;
      waiting[best] = waiting[--count]!;
      sum += near[last]!;
      if (degrees !== undefined) {
        degrees[last]! += 1;
        degrees[from[last]!]! += 1;
      }
    }
    return sum;
  }

  private spread(left: Uint8Array): number {
    let sum = 0;
    for (let i = 0; i < this.points; i += 1) if (left[i] === 1) sum += 2 * this.prices[i]!;
    return sum;
  }

  private cheapestTwo(left: Uint8Array): number {
    const prices = [...this.prices].filter((_, i) => left[i] === 1).sort((a, b) => a - b);
    return prices.length === 0 ? 0 : prices[0]! + (prices[1] ?? prices[0]!);
  }

  /** Raises the bound over all points by its slope in the prices, with shrinking steps; the best prices are kept. */
  private findPrices(rounds: number): void {
    const { points, prices } = this;
    const all = new Uint8Array(points).fill(1);
    let step = points > 1 ? this.tree(all) / points / 2 : 0;
    let best = -Infinity;
    let kept = prices.slice();
    for (let round = 0; round < rounds; round += 1, step *= SHRINK) {
      const degrees = new Int32Array(points);
      const bound = this.tree(all, degrees) - this.spread(all) + this.cheapestTwo(all);
      if (bound > best) {
        best = bound;
        kept = prices.slice();
      }
      for (let i = 0; i < points; i += 1) prices[i] = snapped(prices[i]! + step * (degrees[i]! - 2));
    }
    prices.set(kept);
  }
}

/** By how much the steps of the prices shrink from round to round (our choice). */
const SHRINK = 0.98;

/** Prices are exact binary fractions, so that sums of them are exact. */
const snapped = (price: number): number => Math.round(price * 16) / 16;

const whole = (bound: number): number => Math.max(0, Math.ceil(bound));
