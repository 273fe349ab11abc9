import { printable } from '../io/show.js';

/** Marks that show nothing and change how their neighbours read: joiners, direction marks, halves of characters. */
const INVISIBLE = /[\u00ad\u061c\u180e\u200b-\u200f\u2060-\u2064\ufeff\ufff9-\ufffb]|\p{Surrogate}/gu;

/** A text from a file as a terminal or page may show it: every mark that is not seen is a `\u200b` escape. */
export const plain = (text: string): string =>
  printable(text).replace(INVISIBLE, (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`);

const WIDE =
  /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6\u{1f300}-\u{1faff}\u{20000}-\u{3fffd}]/u;
const COMBINING = /\p{M}/u;

const columnsOf = (mark: string): number => (COMBINING.test(mark) ? 0 : WIDE.test(mark) ? 2 : 1);

/** How many columns of a terminal a text takes. */
export const columns = (text: string): number =>
  Array.from(text).reduce((sum, mark) => sum + columnsOf(mark), 0);

/** The text filled up with blanks to `width` columns. */
export const padded = (text: string, width: number, side: 'left' | 'right' = 'left'): string => {
  const blanks = ' '.repeat(Math.max(0, width - columns(text)));
  return side === 'left' ? `${text}${blanks}` : `${blanks}${text}`;
};

/** As many leading characters as fit into `width` columns, at least one. */
function head(text: string, width: number): string {
  let taken = '';
  for (const mark of text) {
    if (taken !== '' && columns(taken) + columnsOf(mark) > width) break;
    taken += mark;
  }
  return taken;
}

/** The text, cut short with three dots when it takes more than `width` columns. */
export const clipped = (text: string, width: number): string =>
  columns(text) <= width ? text : `${head(text, Math.max(1, width - 3))}...`;

/** The text in lines of at most `width` columns, broken between words and, where a word is too long, in it. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').filter((w) => w !== '')) {
    if (line !== '' && columns(line) + 1 + columns(word) <= width) {
      line += ` ${word}`;
      continue;
    }
    if (line !== '') lines.push(line);
    line = word;
    while (columns(line) > width) {
      const first = head(line, width);
      if (first === line) break;
      lines.push(first);
      line = line.slice(first.length);
    }
  }
  return line === '' && lines.length > 0 ? lines : [...lines, line];
}
