import { compareText } from '../base/order.js';
import { contradictionsAmong, type Contradiction, type PlacedRow } from './claims.js';
import { rowLine } from './results-csv.js';
import { runKey, type Row } from './row.js';

/** Results of several files as one. */
export interface Merged {
  /** By instance, solver and seed, whatever the order of files and rows. */
  readonly rows: readonly Row[];
  /** Rows that were there already. */
  readonly duplicates: number;
  readonly contradictions: readonly Contradiction[];
}

/**
 * Puts results together. Of rows of the same run one is kept: they may differ in what the clock says, and then the first
 * in the order of their texts is taken, so that the result does not hang on the order of the files. Rows of one run with
 * the same limit of steps and no limit of seconds that differ in outcome or costs contradict each other, as do claims
 * about one instance that exclude each other.
 */
export function merge(placed: readonly PlacedRow[]): Merged {
  const sorted = placed
    .map((one) => ({ ...one, line: rowLine(one.row) }))
    .sort((a, b) => compareText(sortKey(a.row), sortKey(b.row)) || compareText(a.line, b.line));
  const kept = new Map<string, PlacedRow>();
  const unlike: Contradiction[] = [];
  for (const one of sorted) {
    const key = runKey(one.row);
    const before = kept.get(key);
    if (before === undefined) kept.set(key, one);
    else if (repeatable(one.row) && repeatedPart(one.row) !== repeatedPart(before.row))
      unlike.push({ places: [before.place, one.place], text: unlikeText(one.row) });
  }
  return {
    rows: [...kept.values()].map(({ row }) => row),
    duplicates: placed.length - kept.size,
    contradictions: [...unlike, ...contradictionsAmong(placed)],
  };
}

const sortKey = (row: Row): string =>
  JSON.stringify([
    row.instance,
    row.digest,
    row.solver,
    row.solverDigest,
    String(row.seed).padStart(10, '0'),
  ]);

/** Whether the run must come out the same whenever it is repeated. */
const repeatable = ({ limits, solverDigest }: Row): boolean =>
  limits.seconds === undefined && solverDigest === '';

const repeatedPart = ({ outcome, best, bound, steps }: Row): string =>
  JSON.stringify([outcome, best, bound?.map(String), steps]);

const unlikeText = ({ instance, solver, seed }: Row): string =>
  `${solver} on ${instance} with seed ${seed} came out in two ways, although it is limited by steps only`;
