/**
 * A subset that still conflicts and of which every element is needed: drop any one and the conflict is gone.
 * Deletion filter (Chinneck and Dravnieks 1991; Bakker et al. 1993): one test an item, in the order given, so
 * the items that are to be kept if possible should come last. It is minimal, not the smallest.
 *
 * @param conflicts monotone: a set that holds a conflicting one conflicts too
 * @returns undefined when all items together do not conflict
 */
export function minimalConflict<Item>(
  items: readonly Item[],
  conflicts: (subset: readonly Item[]) => boolean,
): readonly Item[] | undefined {
  if (!conflicts(items)) return undefined;
  let kept = items;
  let at = 0;
  while (at < kept.length) {
    const without = kept.filter((_, index) => index !== at);
    if (conflicts(without)) kept = without;
    else at += 1;
  }
  return kept;
}
