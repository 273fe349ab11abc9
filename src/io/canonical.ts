import { compareText } from '../base/order.js';

/**
 * The canonical text of a plain value: JSON with the keys of every map sorted by code unit, lists in their order,
 * two spaces of indentation, numbers as JavaScript prints them with -0 as 0, members that are undefined left out,
 * and one newline at the end. Equal values give equal bytes.
 *
 * Throws a RangeError for what JSON cannot hold: a number that is not finite, a function, a symbol, a big integer,
 * or undefined in a list.
 */
export const canonicalText = (value: unknown): string => `${textOf(value, '')}\n`;

function textOf(value: unknown, indent: string): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number' && Number.isFinite(value)) return String(value === 0 ? 0 : value);
  if (typeof value !== 'object') throw new RangeError(`JSON cannot hold ${String(value)}`);
  const deeper = `${indent}  `;
  if (Array.isArray(value)) {
    const entries = value.map((entry) => textOf(entry, deeper));
    return wrapped('[', entries, ']', indent);
  }
  const members = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .sort(([a], [b]) => compareText(a, b))
    .map(([key, member]) => `${JSON.stringify(key)}: ${textOf(member, deeper)}`);
  return wrapped('{', members, '}', indent);
}

const wrapped = (open: string, lines: readonly string[], close: string, indent: string): string =>
  lines.length === 0
    ? `${open}${close}`
    : `${open}\n${lines.map((line) => `${indent}  ${line}`).join(',\n')}\n${indent}${close}`;
