import type { Cost } from '../cost.js';

/**
 * Cost vectors as rows of a Float64Array: `at` is the index of the first term of a row of `terms` terms. The first term
 * mostly decides, so that with one term these are a plain comparison, sum and copy.
 */
export type CostRows = Float64Array;

/** Negative, zero or positive as row `at` of `a` comes before, equals or comes after row `bt` of `b`. */
export function compareRows(a: CostRows, at: number, b: CostRows, bt: number, terms: number): number {
  const first = a[at]!;
  const other = b[bt]!;
  if (first < other) return -1;
  if (first > other) return 1;
  for (let i = 1; i < terms; i += 1) {
    if (a[at + i]! < b[bt + i]!) return -1;
    if (a[at + i]! > b[bt + i]!) return 1;
  }
  return 0;
}

/** Writes the sum of two rows to `into`, which may be one of them. */
export function addRows(
  a: CostRows,
  at: number,
  b: CostRows,
  bt: number,
  into: CostRows,
  to: number,
  terms: number,
): void {
  into[to] = a[at]! + b[bt]!;
  for (let i = 1; i < terms; i += 1) into[to + i] = a[at + i]! + b[bt + i]!;
}

export function copyRow(from: CostRows, at: number, into: CostRows, to: number, terms: number): void {
  into[to] = from[at]!;
  for (let i = 1; i < terms; i += 1) into[to + i] = from[at + i]!;
}

/** Makes row `to` of `into` the later of itself and row `at` of `from`. */
export function raiseRow(into: CostRows, to: number, from: CostRows, at: number, terms: number): void {
  if (compareRows(into, to, from, at, terms) < 0) copyRow(from, at, into, to, terms);
}

/** Makes row `to` of `into` the earlier of itself and row `at` of `from`. */
export function lowerRow(into: CostRows, to: number, from: CostRows, at: number, terms: number): void {
  if (compareRows(into, to, from, at, terms) > 0) copyRow(from, at, into, to, terms);
}

export const costOfRow = (rows: CostRows, at: number, terms: number): Cost =>
  Array.from(rows.subarray(at, at + terms));

export const rowOfCost = (cost: Cost): CostRows => Float64Array.from(cost);

/** A row that is later than every real cost. */
export const unreachableRow = (terms: number): CostRows => new Float64Array(terms).fill(Infinity);
