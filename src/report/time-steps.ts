import { duration } from './numbers.js';

/** Steps between times that are named on an axis, seconds, of which the first that leaves room is taken. */
export const TIME_STEPS = [
  5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400,
] as const;

/** A time on an axis: `0`, `30 s`, `2 min`. */
export const timeName = (seconds: number): string =>
  seconds === 0 ? '0' : duration(seconds * 10).replace(' 0 s', '');
