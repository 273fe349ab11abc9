/**
 * The lowest rung of a ladder that works, where all above one that works do too; -1 when the top one does not. The top is
 * tried first, so that a ladder that does not help costs one try. Where that order of things does not hold it is still a
 * rung that works, and the one below it was tried and does not, or it is the lowest.
 */
export function smallestRung(rungs: number, works: (rung: number) => boolean): number {
  if (rungs === 0 || !works(rungs - 1)) return -1;
  let [fails, helps] = [-1, rungs - 1];
  while (helps - fails > 1) {
    const middle = (fails + helps) >> 1;
    if (works(middle)) helps = middle;
    else fails = middle;
  }
  return helps;
}
