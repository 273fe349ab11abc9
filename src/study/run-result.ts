import type { RowOutcome, RunResult } from './row.js';

/** A run that says nothing but why. */
export const emptyResult = (
  outcome: Extract<RowOutcome, 'failed' | 'not-applicable' | 'none-in-budget'>,
  note: string,
  terms: readonly string[],
  totalSeconds: number,
): RunResult => ({
  ...{ outcome, note, terms, totalSeconds, best: undefined, bound: undefined, provedTerms: 0, steps: 0 },
  ...{ firstSeconds: undefined, bestSeconds: undefined, proofSeconds: undefined, dropped: 0 },
});
