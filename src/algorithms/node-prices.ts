import { assign } from './assignment.js';
import type { LayeredArcs } from './layered-arcs.js';

/** Prices of nodes, all multiples of a power of two so that sums of them and of whole costs are exact. */
export interface PriceScale {
  readonly grain: number;
  /** No price is further from 0. */
  readonly limit: number;
}

/**
 * As fine as sums allow: 1/256, or coarser up to 1, since a sum of prices and of whole costs is a multiple of no more than
 * 1. Those along n nodes stay below 2^52 grains, so that half a grain still counts, while the costs stay below 2^51.
 */
export function priceScale(cost: Float64Array, { n, start, to }: LayeredArcs): PriceScale {
  let most = 1;
  for (let spot = 0; spot < n * n; spot += 1)
    for (let a = start[spot]!; a < start[spot + 1]!; a += 1)
      most = Math.max(most, cost[(spot % n) * n + to[a]!]!);
  const exponent = Math.ceil(Math.log2(most * n * n));
  const room = 50 - Math.ceil(Math.log2(n));
  return {
    grain: 2 ** Math.min(0, Math.max(-8, exponent - 50)),
    limit: 2 ** Math.min(room, Math.ceil(Math.log2(most * n))),
  };
}

/** Greatest common divisor of the costs of all arcs; 1 where all are 0. */
export function commonUnit(cost: Float64Array, { n, start, to }: LayeredArcs): number {
  let unit = 0;
  for (let spot = 0; spot < n * n && unit !== 1; spot += 1)
    for (let a = start[spot]!; a < start[spot + 1]!; a += 1) {
      let rest = cost[(spot % n) * n + to[a]!]!;
      while (rest !== 0) [unit, rest] = [rest, unit % rest];
    }
  return Math.max(unit, 1);
}

/** Prices from the duals of the assignment that leaves and reaches each node once: a first bound. */
export function assignmentPrices(
  cost: Float64Array,
  { n, start, to }: LayeredArcs,
  scale: PriceScale,
): Float64Array {
  const usable = Array.from({ length: n - 1 }, () => new Array<number>(n - 1).fill(Infinity));
  for (let spot = 0; spot < n * n; spot += 1) {
    const i = spot % n;
    for (let a = start[spot]!; a < start[spot + 1]!; a += 1) usable[i]![to[a]! - 1] = cost[i * n + to[a]!]!;
  }
  const prices = new Float64Array(n);
  const found = assign(usable);
  for (let k = 1; found !== undefined && k < n - 1; k += 1)
    prices[k] = snapped(-(found.rowPrice[k]! + found.columnPrice[k - 1]!), scale);
  return prices;
}

/**
 * Turns the direction in which prices move by the subgradient of a relaxed path, visits less one, so that it does not
 * turn back on itself (Camerini, Fratta and Maffioli 1975). Returns its squared length, 0 where each node is visited once.
 */
export function turn(direction: Float64Array, path: Int32Array): number {
  const visits = new Float64Array(direction.length).fill(-1);
  for (const node of path) visits[node]! += 1;
  let [along, length] = [0, 0];
  direction.forEach((d, i) => {
    along += d * visits[i]!;
    length += d * d;
  });
  const kept = along < 0 ? (-1.5 * along) / length : 0;
  let turned = 0;
  direction.forEach((d, i) => {
    direction[i] = visits[i]! + kept * d;
    turned += direction[i]! ** 2;
  });
  return visits.some((v) => v !== 0) ? turned : 0;
}

/** Prices moved along a direction; those of the outer two nodes stay 0. */
export function moved(
  prices: Float64Array,
  direction: Float64Array,
  step: number,
  scale: PriceScale,
): Float64Array {
  const last = prices.length - 1;
  return prices.map((price, i) => (i === 0 || i === last ? 0 : snapped(price + step * direction[i]!, scale)));
}

function snapped(price: number, { grain, limit }: PriceScale): number {
  return Math.max(-limit, Math.min(limit, Math.round(price / grain) * grain));
}

export function sumOf(prices: Float64Array): number {
  let sum = 0;
  for (const price of prices) sum += price;
  return sum;
}

/** Sum of the prices of the nodes in a byte of a set, at [byte number * 256 + byte]. */
export function sumsByByte(prices: Float64Array): Float64Array {
  const words = (prices.length + 31) >>> 5;
  const sums = new Float64Array(words * 1024);
  for (let at = 0; at < sums.length; at += 1) {
    const byte = at & 255;
    if (byte === 0) continue;
    const top = 31 - Math.clz32(byte);
    sums[at] = sums[at ^ (1 << top)]! + (prices[(at >>> 8) * 8 + top] ?? 0);
  }
  return sums;
}

/** Sum of the prices of the nodes that are not in a set, by `sumsByByte`. */
export function sumOutside(sums: Float64Array, set: Uint32Array, words: number): number {
  let sum = 0;
  for (let w = 0, b = 0; w < words; w += 1, b += 1024) {
    const word = ~set[w]!;
    sum += sums[b + (word & 255)]! + sums[b + 256 + ((word >>> 8) & 255)]!;
    sum += sums[b + 512 + ((word >>> 16) & 255)]! + sums[b + 768 + (word >>> 24)]!;
  }
  return sum;
}
