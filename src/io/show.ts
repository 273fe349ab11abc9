/** Where in a document: keys of maps and numbers of list entries, from the top. */
export type Path = readonly PropertyKey[];

/** Control characters and direction overrides, which would let a file rewrite what a terminal shows. */
// eslint-disable-next-line no-control-regex
const UNPRINTABLE = /[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g;

const LONGEST_VALUE = 60;

/** The text with every unprintable character as a `\u001b` escape, so that it is safe on any terminal. */
export const printable = (text: string): string =>
  text.replace(UNPRINTABLE, (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`);

const shortened = (text: string): string =>
  text.length > LONGEST_VALUE ? `${text.slice(0, LONGEST_VALUE - 1)}…` : text;

const quoted = (text: string): string => `"${shortened(printable(text))}"`;

/** A value of a file as an issue quotes it: texts in quotes, maps by their keys, long ones cut short. */
export function showValue(value: unknown): string {
  if (value === undefined || value === null) return 'nothing';
  if (typeof value === 'string') return quoted(value);
  if (Array.isArray(value)) return shortened(`[${value.slice(0, LONGEST_VALUE).map(showEntry).join(', ')}]`);
  if (typeof value === 'object') {
    const keys = Object.keys(value);
    return keys.length === 0 ? 'an empty map' : `a map with ${shortened(keys.map(printable).join(', '))}`;
  }
  return String(value);
}

const showEntry = (entry: unknown): string =>
  Array.isArray(entry) ? '[…]' : typeof entry === 'object' && entry !== null ? '{…}' : showValue(entry);

/** A path as `joints[2].between`; keys that are not plain words are quoted, as `parts["a.b"]`. */
export function showPath(path: Path): string {
  return path.reduce<string>((shown, key) => {
    if (typeof key === 'number') return `${shown}[${key}]`;
    const text = String(key);
    if (!/^[\p{L}\p{N}_+-]+$/u.test(text)) return `${shown}[${quoted(text)}]`;
    return shown === '' ? text : `${shown}.${text}`;
  }, '');
}

/** A list of names for a remedy, at most twelve of them. */
export function showNames(names: readonly string[]): string {
  const shown = names.slice(0, 12).map((name) => shortened(printable(name)));
  return names.length > shown.length
    ? `${shown.join(', ')} and ${names.length - shown.length} more`
    : shown.join(', ');
}
