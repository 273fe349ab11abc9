/**
 * An immutable set of small integers (part numbers), any width, as 32-bit words. The word count is fixed by
 * the universe it was made for, so that two sets of one weldment compare word by word.
 */
export type PartSet = Uint32Array;

export const emptySet = (universe: number): PartSet => new Uint32Array(Math.max(1, Math.ceil(universe / 32)));

export function setOf(universe: number, members: Iterable<number>): PartSet {
  const set = emptySet(universe);
  for (const member of members) set[member >>> 5]! |= 1 << (member & 31);
  return set;
}

export const has = (set: PartSet, member: number): boolean =>
  ((set[member >>> 5]! >>> (member & 31)) & 1) === 1;

export function withMember(set: PartSet, member: number): PartSet {
  const copy = set.slice();
  copy[member >>> 5]! |= 1 << (member & 31);
  return copy;
}

export function intersects(a: PartSet, b: PartSet): boolean {
  for (let i = 0; i < a.length; i += 1) if ((a[i]! & b[i]!) !== 0) return true;
  return false;
}

export function union(a: PartSet, b: PartSet): PartSet {
  return a.map((word, i) => word | b[i]!);
}

/** What of `a` is not in `b`. */
export function without(a: PartSet, b: PartSet): PartSet {
  return a.map((word, i) => word & ~b[i]!);
}

export function isSubset(inner: PartSet, outer: PartSet): boolean {
  for (let i = 0; i < inner.length; i += 1) if ((inner[i]! & ~outer[i]!) !== 0) return false;
  return true;
}

export function members(set: PartSet): number[] {
  const found: number[] = [];
  set.forEach((word, i) => {
    for (let rest = word; rest !== 0; rest &= rest - 1) found.push(i * 32 + 31 - Math.clz32(rest & -rest));
  });
  return found;
}

export const size = (set: PartSet): number => members(set).length;

/** A text that is equal exactly for equal sets of one universe. */
export const setKey = (set: PartSet): string => set.join('.');
