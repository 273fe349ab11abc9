/** Sets tried in order of size before it is left at that. */
const MOST_SETS = 400;

/** Sets of k of the numbers 0 to n - 1, in lexicographic order. */
function* sets(n: number, k: number, from = 0): Generator<number[]> {
  if (k === 0) yield [];
  else for (let i = from; i + k <= n; i += 1) for (const rest of sets(n, k - 1, i + 1)) yield [i, ...rest];
}

/** A set of tacks that is enough, and whether it is only the fewest that were found: a smaller one may be. */
export interface FewestTacks<T> {
  readonly tacks: readonly T[];
  readonly fewestFound: boolean;
}

/**
 * The first set of the fewest candidates that is enough, of `least` or more where there are so many; all of them together
 * must be enough, and more than a set that is enough must be too. When so many sets have been tried that there is no end
 * of it, candidates are left out one by one instead for as long as the rest is enough.
 */
export function fewestThat<T>(
  candidates: readonly T[],
  least: number,
  enough: (chosen: readonly T[]) => boolean,
): FewestTacks<T> {
  const { length } = candidates;
  let tried = 0;
  for (let size = Math.min(least, length); size < length; size += 1)
    for (const set of sets(length, size)) {
      if (tried >= MOST_SETS)
        return { tacks: pared(candidates, Math.max(size, least), enough), fewestFound: true };
      tried += 1;
      const chosen = set.map((i) => candidates[i]!);
      if (enough(chosen)) return { tacks: chosen, fewestFound: false };
    }
  return { tacks: candidates, fewestFound: false };
}

/** What is left when candidates are left out, the last first, while at least so many stay and are enough. */
function pared<T>(
  candidates: readonly T[],
  least: number,
  enough: (chosen: readonly T[]) => boolean,
): readonly T[] {
  let chosen = candidates;
  for (const one of [...candidates].reverse()) {
    const rest = chosen.filter((other) => other !== one);
    if (rest.length >= least && enough(rest)) chosen = rest;
  }
  return chosen;
}
