import { compareCost, type Cost } from '../algorithms/cost.js';
import { shownCost } from './shown-cost.js';
import type { Row } from './row.js';

/** A row and where it was read, as `file:line`. */
export interface PlacedRow {
  readonly row: Row;
  readonly place: string;
}

/** Two rows that cannot both be right. */
export interface Contradiction {
  readonly places: readonly [string, string];
  readonly text: string;
}

/**
 * Claims of rows about one instance that exclude each other: an order cheaper than a bound, or an order where none is
 * possible. Each instance is told once, by its cheapest order and its highest claim. Whatever made the rows, one of the
 * two is wrong.
 */
export function contradictionsAmong(rows: readonly PlacedRow[]): readonly Contradiction[] {
  const byInstance = new Map<string, PlacedRow[]>();
  for (const placed of rows)
    byInstance.set(placed.row.digest, [...(byInstance.get(placed.row.digest) ?? []), placed]);
  return [...byInstance.values()].flatMap(contradictionIn);
}

function contradictionIn(rows: readonly PlacedRow[]): readonly Contradiction[] {
  const cheapest = extreme(rows, ({ best }) => best, -1);
  const highest = extreme(rows, ({ bound }) => bound, 1);
  const impossible = rows.find(({ row }) => row.outcome === 'impossible');
  if (cheapest === undefined) return [];
  const { row, place } = cheapest;
  const found = `${row.solver} has an order of ${row.instance} that costs ${shownCost(row.best!)}`;
  if (impossible !== undefined) {
    const text = `${found}, and ${impossible.row.solver} says that there is none`;
    return [{ places: [place, impossible.place], text }];
  }
  if (highest === undefined || compareCost(row.best!, highest.row.bound!) >= 0) return [];
  const text = `${found}, and ${highest.row.solver} says that none costs less than ${shownCost(highest.row.bound!)}`;
  return [{ places: [place, highest.place], text }];
}

/** The row whose cost comes first (-1) or last (1). */
function extreme(
  rows: readonly PlacedRow[],
  of: (row: Row) => Cost | undefined,
  sign: -1 | 1,
): PlacedRow | undefined {
  return rows
    .filter(({ row }) => of(row) !== undefined)
    .reduce<PlacedRow | undefined>(
      (most, one) => (most === undefined || sign * compareCost(of(one.row)!, of(most.row)!) > 0 ? one : most),
      undefined,
    );
}
