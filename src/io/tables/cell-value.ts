import { plainText } from './csv-records.js';

/** What a cell of a table holds; nothing where it is empty. */
export type TableCell = string | number | boolean | undefined;

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const WITH_COMMA = /^[+-]?\d*,\d+$/;

/** Words that people write for yes and no; spreadsheets write the first two. */
const WORDS: Readonly<Record<string, boolean>> = { true: true, false: false, yes: true, no: false };

/**
 * The value of a cell that was written as text: a number, yes or no, or the text itself without space round it.
 * `decimalComma`: 0,5 is a number as well.
 */
export function cellOfText(written: string, decimalComma = false): TableCell {
  const text = textOf(written);
  if (text === undefined) return undefined;
  const pointed = decimalComma && WITH_COMMA.test(text) ? text.replace(',', '.') : text;
  if (NUMBER.test(pointed) && Number.isFinite(Number(pointed))) return Number(pointed);
  const word = text.toLowerCase();
  return Object.hasOwn(WORDS, word) ? WORDS[word] : text;
}

/** The text of a cell in a column of texts: a part may be called 007. */
export function textOf(written: string): string | undefined {
  const text = plainText(written.trim());
  return text === '' ? undefined : text;
}

/** Numbers of any size, without what only a machine would write. */
export const isFigure = (cell: TableCell): boolean => typeof cell === 'number' || typeof cell === 'boolean';
