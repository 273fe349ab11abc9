import type { Clock } from './budget.js';

/** Seconds that are left of what was given. */
export interface SecondsLeft {
  /** Undefined where none were given, or nobody counts. */
  readonly left: () => number | undefined;
  /** A share of what is left now, 0 to 1, counted from now on. */
  readonly part: (share: number) => SecondsLeft;
}

/** Counts from now on. */
export function secondsFromNow(seconds: number | undefined, clock: Clock | undefined): SecondsLeft {
  if (seconds === undefined || clock === undefined) {
    const unlimited: SecondsLeft = { left: () => undefined, part: () => unlimited };
    return unlimited;
  }
  const begun = clock();
  const left = (): number => Math.max(0, seconds - (clock() - begun));
  return { left, part: (share) => secondsFromNow(left() * share, clock) };
}
