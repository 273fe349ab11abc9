import type { Refusal } from './verdict.js';

/** A part that is not in place, and what keeps it away now; nothing where it may come. */
export interface LeftOut {
  readonly part: string;
  readonly reasons: readonly Refusal[];
}

/** How far a search got: the most parts that it had in place, and the others. */
export interface DeepestParts {
  readonly inPlace: readonly string[];
  readonly left: readonly LeftOut[];
}
