/** Which items must come before which, and what follows from it. */
export interface Precedence {
  /** before[i][j]: i must come before j; transitively closed. */
  readonly before: readonly (readonly boolean[])[];
  /** The pairs that imply all others: no item must come between the two. */
  readonly covers: readonly (readonly [earlier: number, later: number])[];
  /** First and last place, from 0, that an item can have. */
  readonly earliest: readonly number[];
  readonly latest: readonly number[];
}

/** Undefined when some items must each come before the other. */
export function precedenceOf(
  size: number,
  pairs: readonly (readonly [earlier: number, later: number])[],
): Precedence | undefined {
  const before = Array.from({ length: size }, () => new Array<boolean>(size).fill(false));
  for (const [a, b] of pairs) before[a]![b] = true;
  for (let k = 0; k < size; k += 1)
    for (let i = 0; i < size; i += 1)
      if (before[i]![k]!) for (let j = 0; j < size; j += 1) if (before[k]![j]!) before[i]![j] = true;
  if (before.some((row, i) => row[i]!)) return undefined;
  const items = Array.from({ length: size }, (_, i) => i);
  const covers = items.flatMap((i) =>
    items
      .filter((j) => before[i]![j]! && !items.some((k) => before[i]![k]! && before[k]![j]!))
      .map((j) => [i, j] as const),
  );
  const count = (test: (other: number) => boolean): number => items.filter(test).length;
  return {
    before,
    covers,
    earliest: items.map((i) => count((j) => before[j]![i]!)),
    latest: items.map((i) => size - 1 - count((j) => before[i]![j]!)),
  };
}

/** Whether `b` can come right after `a`. */
export const mayFollow = ({ before }: Precedence, a: number, b: number): boolean =>
  a !== b && !before[b]![a]! && !before.some((row, k) => before[a]![k]! && row[b]!);
