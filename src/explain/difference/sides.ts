/** What each of two plans, `a` and `b`, has of something. */
export interface Sides<T> {
  readonly a: T;
  readonly b: T;
}

/** A value that two plans can differ in. */
export type Told = string | number | null | readonly (string | number)[];

/** One thing that differs. */
export interface Change {
  readonly what: string;
  readonly a: Told;
  readonly b: Told;
}

/** Whether two values that JSON can hold are the same. */
export const same = (a: unknown, b: unknown): boolean =>
  JSON.stringify(ordered(a)) === JSON.stringify(ordered(b));

/** The value with the keys of its maps sorted and members that are undefined left out. */
function ordered(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value === undefined ? null : value;
  if (Array.isArray(value)) return value.map(ordered);
  const members = Object.entries(value).filter(([, member]) => member !== undefined);
  return members
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
    .map(([key, member]) => [key, ordered(member)]);
}

/** The entries of two records that differ, in the order of their keys in the first, then in the second. */
export function changesOf(
  a: Readonly<Record<string, Told>>,
  b: Readonly<Record<string, Told>>,
): readonly Change[] {
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])];
  return keys
    .filter((key) => !same(a[key], b[key]))
    .map((what) => ({ what, a: a[what] ?? null, b: b[what] ?? null }));
}
