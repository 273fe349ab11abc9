import { compareText } from '../base/order.js';
import { median } from './middle.js';
import type { Row } from './row.js';
import { nameIn, solverNames } from './summary.js';

/** What is compared: seconds to the proof, steps to the proof (repeatable), or seconds to the first legal order. */
export const MEASURES = ['proof', 'steps', 'first'] as const;
export type Measure = (typeof MEASURES)[number];

/** Measures in words. */
export const MEASURED: Readonly<Record<Measure, string>> = {
  proof: 'seconds to the proof',
  steps: 'states looked at until the proof',
  first: 'seconds to the first legal order',
};

/** Less than this is what no clock can tell apart, and less than one step there is not. */
const LEAST: Readonly<Record<Measure, number>> = { proof: 1e-6, steps: 1, first: 1e-6 };

/** The profile of one solver: `share` of the instances within `factor` of the fastest, from each factor on. */
export interface ProfileCurve {
  readonly solver: string;
  /** Factors from 1 on, rising; the share holds until the next one. The first factor is 1. */
  readonly steps: readonly { readonly factor: number; readonly share: number }[];
}

export interface Profile {
  readonly measure: Measure;
  readonly instances: number;
  readonly curves: readonly ProfileCurve[];
}

/**
 * Performance profile (Dolan and Moré, Benchmarking optimization software with performance profiles, Mathematical
 * Programming 91, 2002): for each solver the share of all instances on which it needs at most the given factor of what
 * the best solver needs there. An instance that a solver does not solve counts as never; one that no solver solves stays
 * in the count. Of several seeds the median counts. A solver that does not take an instance never solves it; one that takes
 * none is left out. Only instances that every solver has rows for are compared.
 */
export function performanceProfile(rows: readonly Row[], measure: Measure): Profile {
  const names = solverNames(rows);
  const taking = rows.filter(({ outcome }) => outcome !== 'not-applicable');
  const solvers = [...new Set(taking.map((row) => nameIn(names, row)))].sort(compareText);
  const values = new Map<string, Map<string, number[]>>();
  for (const row of rows) {
    const of = values.get(row.digest) ?? new Map<string, number[]>();
    values.set(row.digest, of);
    const name = nameIn(names, row);
    of.set(name, [...(of.get(name) ?? []), valueOf(row, measure)]);
  }
  const shared = [...values.values()].filter((of) => solvers.every((solver) => of.has(solver)));
  const needed = shared.map((of) => new Map(solvers.map((solver) => [solver, median(of.get(solver)!)!])));
  const least = needed.map((of) => Math.min(...of.values()));
  const curves = solvers.map((solver) => ({
    solver,
    steps: curveOf(needed.map((of, i) => (least[i] === Infinity ? Infinity : of.get(solver)! / least[i]!))),
  }));
  return { measure, instances: shared.length, curves };
}

function valueOf(row: Row, measure: Measure): number {
  const proved = row.proofSeconds !== undefined;
  const value = { proof: row.proofSeconds, steps: proved ? row.steps : undefined, first: row.firstSeconds }[
    measure
  ];
  return value === undefined ? Infinity : Math.max(LEAST[measure], value);
}

function curveOf(ratios: readonly number[]): ProfileCurve['steps'] {
  const factors = [1, ...new Set(ratios.filter((ratio) => ratio > 1 && ratio < Infinity))].sort(
    (a, b) => a - b,
  );
  const shareAt = (factor: number): number =>
    ratios.length === 0 ? 0 : ratios.filter((ratio) => ratio <= factor).length / ratios.length;
  return factors.map((factor) => ({ factor, share: shareAt(factor) }));
}

/** The share of a curve at a factor from 1 on. */
export const shareAt = ({ steps }: ProfileCurve, factor: number): number =>
  steps.reduce((share, step) => (step.factor <= factor ? step.share : share), 0);
