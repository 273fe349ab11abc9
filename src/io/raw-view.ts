import type { Path } from './show.js';
import { valueAt } from './schema-at.js';

/** One thing found in a raw document, and where. */
export interface Found<T> {
  readonly path: Path;
  readonly value: T;
}

/** The members of the map at `path`; none when there is no map. */
export function membersAt(document: unknown, path: Path): readonly Found<unknown>[] {
  const map = valueAt(document, path);
  if (typeof map !== 'object' || map === null || Array.isArray(map)) return [];
  return Object.entries(map).map(([key, value]) => ({ path: [...path, key], value }));
}

/** The entries of the list at `path`; none when there is no list. */
export function entriesAt(document: unknown, path: Path): readonly Found<unknown>[] {
  const list = valueAt(document, path);
  return Array.isArray(list) ? list.map((value, i) => ({ path: [...path, i], value: value as unknown })) : [];
}

/** The text at `path`, as a list of one; none when there is no text. */
export function textAt(document: unknown, path: Path): readonly Found<string>[] {
  const value = valueAt(document, path);
  return typeof value === 'string' ? [{ path, value }] : [];
}

/** The texts in the list at `path`; entries that are no text are passed over. */
export const textsAt = (document: unknown, path: Path): readonly Found<string>[] =>
  entriesAt(document, path).flatMap((entry) => textAt(document, entry.path));

/** The number at `path`, or undefined. */
export function numberAt(document: unknown, path: Path): number | undefined {
  const value = valueAt(document, path);
  return typeof value === 'number' ? value : undefined;
}
