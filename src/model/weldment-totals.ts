/**
 * The most that regrips and seconds of a weldment without shapes may add up to, some thirty years. The search counts times
 * in steps of 2^-10 ms and proves by sums that must be exact, hence stay well below 2^53 steps; our choice.
 */
export const MOST_SECONDS = 1_000_000_000;
export const MOST_REGRIPS = 1_000_000_000;
