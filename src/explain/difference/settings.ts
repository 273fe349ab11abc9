import { compareText } from '../../base/order.js';
import type { Settings } from '../../model/settings.js';
import { changesOf, type Change, type Told } from './sides.js';

/** Settings as a flat table: `reserves.gravity` and its value; lists as they are where they hold plain values. */
function flat(value: unknown, path: string): [string, Told][] {
  if (typeof value === 'string' || typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return value === undefined ? [] : [[path, String(value)]];
  if (Array.isArray(value))
    return value.every((entry) => typeof entry === 'string' || typeof entry === 'number')
      ? [[path, value as (string | number)[]]]
      : [[path, value.map((entry) => JSON.stringify(entry))]];
  return Object.entries(value).flatMap(([key, member]) => flat(member, path === '' ? key : `${path}.${key}`));
}

/** The settings that differ, by their path; null where one of the plans has none there. */
export const settingsDifference = (a: Settings, b: Settings): readonly Change[] =>
  [...changesOf(Object.fromEntries(flat(a, '')), Object.fromEntries(flat(b, '')))].sort((p, q) =>
    compareText(p.what, q.what),
  );
