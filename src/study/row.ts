import type { Cost } from '../algorithms/cost.js';
import type { SearchOutcome } from '../algorithms/problem.js';
import type { Instance } from './instance.js';

/** What a run may spend. */
export interface Limits {
  /** Wall-clock, reading and setting up counted in; not repeatable. */
  readonly seconds: number | undefined;
  /** States looked at; repeatable. */
  readonly steps: number | undefined;
  /** For kept states, megabytes of 10^6 bytes. */
  readonly megabytes: number;
}

/**
 * How a run ended: as a search does, or
 * - `failed`: the solver threw, hung, ended its thread or gave an order that is not legal;
 * - `not-applicable`: the solver does not take this kind of instance, or not one of this size.
 */
export type RowOutcome = SearchOutcome | 'failed' | 'not-applicable';

/** What tells one run from another. */
export interface RunKey {
  /** Of the instance. */
  readonly digest: string;
  readonly solver: string;
  /** Of the file of a user's heuristic, and empty for a solver of ours. */
  readonly solverDigest: string;
  readonly seed: number;
  readonly limits: Limits;
}

/** What a run came to. */
export interface RunResult {
  readonly outcome: RowOutcome;
  /** Names of the terms of `best` and `bound`. */
  readonly terms: readonly string[];
  readonly best: Cost | undefined;
  /** No legal order costs less; undefined where the run says nothing. */
  readonly bound: Cost | undefined;
  readonly provedTerms: number;
  /** States looked at; 0 where they are not counted. */
  readonly steps: number;
  /** Seconds from the beginning of the run to the first plan, to the best one and to the proof. */
  readonly firstSeconds: number | undefined;
  readonly bestSeconds: number | undefined;
  readonly proofSeconds: number | undefined;
  readonly totalSeconds: number;
  /** States lost to the limit of memory. */
  readonly dropped: number;
  /** One line for a reader. */
  readonly note: string;
}

/** One run of a study: a row of the results. */
export interface Row extends RunKey, RunResult {
  readonly instance: string;
  readonly kind: Instance['kind'];
  readonly parts: number;
}

const limit = (value: number | undefined): string => (value === undefined ? '' : String(value));

/** Limits as a text that is equal for equal ones. */
export const limitsKey = ({ seconds, steps, megabytes }: Limits): string =>
  `${limit(seconds)} ${limit(steps)} ${megabytes}`;

/** A text that is equal exactly for runs that would repeat each other. */
export const runKey = ({ digest, solver, solverDigest, seed, limits }: RunKey): string =>
  JSON.stringify([digest, solver, solverDigest, seed, limitsKey(limits)]);

/**
 * How much of the best cost is not proved: of the first term that is open, (best - bound) / best; 0 where all are
 * proved; undefined without a best cost or a bound.
 */
export function gapOf({
  best,
  bound,
  outcome,
}: Pick<RunResult, 'best' | 'bound' | 'outcome'>): number | undefined {
  if (outcome === 'optimal') return 0;
  if (best === undefined || bound === undefined) return undefined;
  const open = best.findIndex((term, i) => term !== bound[i]);
  return open < 0 ? 0 : (best[open]! - bound[open]!) / Math.abs(best[open]!);
}
