import type { LayeredArcs } from './layered-arcs.js';
import type { RememberedNodes } from './remembered-nodes.js';

/**
 * The cheapest ways to the end in a relaxation that does not ask for each node once: at every position some node that
 * may stand there and may follow the one before it, none that the memory says lies behind, none before which one must
 * come that the memory says is ahead (Christofides, Mingozzi and Toth 1981; the memory after Baldacci, Mingozzi and
 * Roberti 2011). Visiting node k costs its price besides.
 */
export interface RelaxedPaths {
  readonly arcs: LayeredArcs;
  readonly memory: RememberedNodes;
  /** From `masksByPosition`. */
  readonly masks: Uint16Array;
  readonly prices: Float64Array;
  /** Where the memories of a node at a position begin in `toEnd`, at [p * n + i]. */
  readonly at: Int32Array;
  /** Least cost with prices to the end, by position, node and memory. */
  readonly toEnd: Float64Array;
}

/** Works out the table from the last position to the first; `into` may be handed in again to save making it. */
export function relaxedPaths(
  cost: Float64Array,
  { arcs, memory, masks, prices }: Omit<RelaxedPaths, 'at' | 'toEnd'>,
  into?: Float64Array,
): RelaxedPaths {
  const { n, start, to } = arcs;
  const { offset, arcAt, follower, needed } = memory;
  const { at, size } = places(arcs, memory);
  const toEnd = into !== undefined && into.length >= size ? into : new Float64Array(size);
  toEnd.fill(Infinity, 0, size);
  const last = (n - 1) * n + n - 1;
  toEnd.fill(0, at[last], at[last]! + offset[n]! - offset[n - 1]!);
  for (let p = n - 2; p >= 0; p -= 1) {
    for (let i = 0; i < n; i += 1) {
      const own = at[p * n + i]!;
      const memories = offset[i + 1]! - offset[i]!;
      const end = start[p * n + i + 1]!;
      for (let a = start[p * n + i]!; a < end; a += 1) {
        const k = to[a]!;
        const paid = cost[i * n + k]! + prices[k]!;
        const ahead = at[(p + 1) * n + k]!;
        const mask = masks[(p + 1) * n + k]!;
        const map = arcAt[i * n + k]!;
        const bits = needed[i * n + k]!;
        for (let m = bits; m < memories; m = (m + 1) | bits) {
          const sum = paid + toEnd[ahead + (follower[map + m]! & mask)]!;
          if (sum < toEnd[own + m]!) toEnd[own + m] = sum;
        }
      }
    }
  }
  return { arcs, memory, masks, prices, at, toEnd };
}

/** Room for the memories of each node where it can stand. */
function places({ n, start }: LayeredArcs, { offset }: RememberedNodes): { at: Int32Array; size: number } {
  const at = new Int32Array(n * n).fill(-1);
  let size = 0;
  for (let spot = 0; spot < n * n; spot += 1) {
    if (spot !== n * n - 1 && start[spot] === start[spot + 1]) continue;
    at[spot] = size;
    size += offset[(spot % n) + 1]! - offset[spot % n]!;
  }
  return { at, size };
}

/** The nodes of a cheapest relaxed path, n of them from node 0, or nothing where there is none. */
export function cheapestRelaxed(cost: Float64Array, paths: RelaxedPaths): Int32Array | undefined {
  const { arcs, memory, masks, prices, at, toEnd } = paths;
  const { n, start, to } = arcs;
  const { arcAt, follower, needed } = memory;
  const path = new Int32Array(n);
  let [i, kept] = [0, 0];
  if (at[0]! < 0) return undefined;
  for (let p = 0; p < n - 1; p += 1) {
    const least = toEnd[at[p * n + i]! + kept]!;
    if (least === Infinity) return undefined;
    for (let a = start[p * n + i]!; ; a += 1) {
      const k = to[a]!;
      if ((~kept & needed[i * n + k]!) !== 0) continue;
      const m = follower[arcAt[i * n + k]! + kept]! & masks[(p + 1) * n + k]!;
      if (cost[i * n + k]! + prices[k]! + toEnd[at[(p + 1) * n + k]! + m]! !== least) continue;
      [i, kept] = [k, m];
      break;
    }
    path[p + 1] = i;
  }
  return path;
}

/**
 * Which arcs lie on a relaxed path that costs less than `limit` with prices: 1 for each of `arcs.to`.
 * The cheapest ways from the start are worked out forwards, beside the table of ways to the end.
 */
export function arcsBelow(cost: Float64Array, paths: RelaxedPaths, limit: number): Uint8Array {
  const { arcs, memory, masks, prices, at, toEnd } = paths;
  const { n, start, to } = arcs;
  const { offset, arcAt, follower, needed } = memory;
  const keep = new Uint8Array(to.length);
  let here = new Float64Array(offset[n]!).fill(Infinity);
  let next = new Float64Array(offset[n]!);
  here[0] = 0;
  for (let p = 0; p < n - 1; p += 1) {
    next.fill(Infinity);
    for (let i = 0; i < n; i += 1) {
      const end = start[p * n + i + 1]!;
      if (start[p * n + i] === end) continue;
      for (let m = 0; m < offset[i + 1]! - offset[i]!; m += 1) {
        const paid = here[offset[i]! + m]!;
        if (paid + toEnd[at[p * n + i]! + m]! >= limit) continue;
        for (let a = start[p * n + i]!; a < end; a += 1) {
          const k = to[a]!;
          if ((~m & needed[i * n + k]!) !== 0) continue;
          const after = follower[arcAt[i * n + k]! + m]! & masks[(p + 1) * n + k]!;
          const sum = paid + cost[i * n + k]! + prices[k]!;
          if (sum + toEnd[at[(p + 1) * n + k]! + after]! >= limit) continue;
          keep[a] = 1;
          const place = offset[k]! + after;
          if (sum < next[place]!) next[place] = sum;
        }
      }
    }
    [here, next] = [next, here];
  }
  return keep;
}
