import { plain } from './plain.js';

/** Ends every line of a file, as RFC 4180 has it. */
export const LINE_END = '\r\n';

/** With these a spreadsheet begins a formula (or, for the last two, may after it has trimmed the cell). */
const FORMULA = /^'*[=+\-@\t\r]/;

/**
 * A text that no spreadsheet works out: where it would begin a formula, an apostrophe stands before it, which a
 * spreadsheet takes for "this is text". Reading a table takes it away again.
 */
export const neutralText = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);

/** A field by RFC 4180: in quotation marks where it holds a comma, a mark or an end of line, its marks doubled. */
const field = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** One record with its end of line. */
export const csvLine = (fields: readonly string[]): string => `${fields.map(field).join(',')}${LINE_END}`;

/** A cell: a text, which may come from a file, or a number of ours; nothing where there is none. */
export type CsvCell = string | number | undefined;

/** Text is made printable and harmless; numbers stay numbers, a minus before one is no formula. */
const cellText = (cell: CsvCell): string =>
  cell === undefined
    ? ''
    : typeof cell === 'number'
      ? String(cell === 0 ? 0 : cell)
      : neutralText(plain(cell));

/** A table with its heads. */
export const csvTable = (heads: readonly string[], rows: readonly (readonly CsvCell[])[]): string =>
  [heads, ...rows].map((row) => csvLine(row.map(cellText))).join('');
