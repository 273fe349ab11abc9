/**
 * What a test of a subset says: the part of it that already conflicts (all of it where nothing less is known), `free` where it
 * is proved not to conflict, `undecided` where the test was given up.
 */
export type Tested<Item> = readonly Item[] | 'free' | 'undecided';

/** A subset that conflicts. */
export interface MinimalConflict<Item> {
  readonly items: readonly Item[];
  /** How many of them are proved to be needed; fewer than all only where tests were given up. */
  readonly needed: number;
}

/**
 * A subset that still conflicts and of which every element is needed: drop any one and the conflict is gone, or its test was
 * given up. Deletion filter (Chinneck and Dravnieks 1991; Bakker et al. 1993), with what a test says about the part that
 * conflicts taken up at once: one test an item, in the order given, so the items that are to be kept if possible should
 * come last. It is minimal, not the smallest.
 *
 * @param test monotone: a set that holds a conflicting one conflicts too
 * @param batchOf items of one batch are first dropped together: fewer tests where most batches are not needed
 * @param alone whether one item conflicts by itself, as far as that is worth finding out; the last of such items is then the
 * conflict, before any is deleted
 * @returns undefined when all items together are not shown to conflict
 */
export function minimalConflict<Item>(
  items: readonly Item[],
  test: (subset: readonly Item[]) => Tested<Item>,
  batchOf?: (item: Item) => string,
  alone: (item: Item) => boolean = () => false,
): MinimalConflict<Item> | undefined {
  const all = test(items);
  if (typeof all === 'string') return undefined;
  const one = all.length > 1 ? all.findLast(alone) : undefined;
  if (one !== undefined) return dropped([one], test, (_, at) => `${at}`);
  const inBatches = batchOf === undefined ? all : dropped(all, test, batchOf).items;
  return dropped(inBatches, test, (_, at) => `${at}`);
}

/** The items that are left once every batch was dropped that can be. */
function dropped<Item>(
  items: readonly Item[],
  test: (subset: readonly Item[]) => Tested<Item>,
  batchOf: (item: Item, at: number) => string,
): MinimalConflict<Item> {
  const batches = new Map(items.map((item, at) => [item, batchOf(item, at)]));
  const proved = new Set<string>();
  let kept = items;
  for (const batch of new Set(batches.values())) {
    const without = kept.filter((item) => batches.get(item) !== batch);
    if (without.length === kept.length) continue;
    const said = test(without);
    if (said === 'free') proved.add(batch);
    else if (said !== 'undecided') kept = said;
  }
  return { items: kept, needed: kept.filter((item) => proved.has(batches.get(item)!)).length };
}

/**
 * Conflicts that share no item: each is looked for with the items of those before dropped, until none is found.
 *
 * @param find a conflict among all items but these
 */
export function separateConflicts<Item>(
  most: number,
  find: (dropped: readonly Item[]) => MinimalConflict<Item> | undefined,
): readonly MinimalConflict<Item>[] {
  const found: MinimalConflict<Item>[] = [];
  while (found.length < most) {
    const next = find(found.flatMap(({ items }) => items));
    if (next === undefined) break;
    found.push(next);
    // What needs nothing cannot be told apart from the next.
    if (next.items.length === 0) break;
  }
  return found;
}
