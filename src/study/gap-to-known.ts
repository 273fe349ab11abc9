import { compareCost, type Cost } from '../algorithms/cost.js';
import type { BestKnown } from './best-known.js';
import type { Row } from './row.js';

/** For each instance (by digest) the cost that gaps are taken to. */
export type Known = ReadonlyMap<string, readonly number[]>;

/** The value of the table where it has one, and otherwise the best cost among the rows. */
export function knownOf(rows: readonly Row[], table: BestKnown | undefined): Known {
  const known = new Map<string, Cost>();
  for (const { digest, best } of rows) {
    const before = known.get(digest);
    if (best !== undefined && (before === undefined || compareCost(best, before) < 0))
      known.set(digest, best);
  }
  for (const { digest, instance } of rows) {
    const given = table?.get(instance);
    if (given !== undefined) known.set(digest, given);
  }
  return known;
}

/**
 * How much a cost is above a known one, as a share of it: of the first term in which they differ, (cost - known) / known.
 * Below 1 the known term is taken as 1, so that one tool change instead of none is a gap of 1. Negative where the cost is
 * lower than the known one. A known cost may have fewer terms; the others are then not compared.
 */
export function gapToKnown(cost: Cost, known: readonly number[]): number {
  const differ = known.findIndex((term, i) => term !== cost[i]);
  return differ < 0 ? 0 : (cost[differ]! - known[differ]!) / Math.max(1, Math.abs(known[differ]!));
}
