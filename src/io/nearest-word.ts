/** Words longer than this are not compared: they are data, not slips of the finger. */
const LONGEST_WORD = 80;
/** Among more words than this none is looked for: it would take too long for a hint. */
const MOST_KNOWN = 500;

/** Edit distance: insertions, deletions, substitutions and swaps of neighbours, each counting one. */
export function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const substitution = last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min(substitution, last[j]! + 1, row[j - 1]! + 1);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) least = Math.min(least, beforeLast[j - 2]! + 1);
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}

/**
 * The known word that `word` was probably meant to be: about a third of its letters may differ, none of a single
 * letter. Undefined when none is that close; the first of equally close ones.
 */
export function nearestWord(word: string, known: readonly string[]): string | undefined {
  if (word.length > LONGEST_WORD || known.length > MOST_KNOWN) return undefined;
  const allowed = Math.floor((word.length + 1) / 3);
  let best: string | undefined;
  let bestDistance = allowed + 1;
  for (const candidate of known) {
    if (Math.abs(candidate.length - word.length) >= bestDistance) continue;
    const distance = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (distance < bestDistance) [best, bestDistance] = [candidate, distance];
  }
  return best;
}
