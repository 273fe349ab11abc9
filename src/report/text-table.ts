import { columns, padded, wrapped } from './plain.js';

/** Columns of a terminal that no line of a report goes beyond. */
export const REPORT_WIDTH = 110;

/** A column: its heading, how wide it may be, and to which side its cells lean. */
export interface Column {
  readonly title: string;
  readonly most: number;
  readonly side?: 'left' | 'right';
}

const GAP = '  ';

/** What the last column may take: its `most` is what it gets at least, and what the others leave may be more. */
const lastWidth = (heads: readonly Column[], others: readonly number[], indent: string): number =>
  Math.max(
    heads.at(-1)!.most,
    REPORT_WIDTH - columns(indent) - others.reduce((sum, width) => sum + width + GAP.length, 0),
  );

/**
 * Rows under headings, columns aligned, long cells wrapped into further lines, no blanks at line ends. `indent` is put
 * before every line; the last column takes what the others leave of the report's width. Cells must be safe to show.
 */
export function textTable(
  heads: readonly Column[],
  rows: readonly (readonly string[])[],
  indent = '',
): string[] {
  const others = heads.slice(0, -1).map(({ title, most }, i) => {
    const widest = Math.max(columns(title), ...rows.map((row) => columns(row[i]!)));
    return Math.max(columns(title), Math.min(most, widest));
  });
  const widest = Math.max(...[...rows.map((row) => row.at(-1)!), heads.at(-1)!.title].map(columns));
  const widths = [...others, Math.min(widest, lastWidth(heads, others, indent))];
  const lineOf = (cells: readonly string[]): string =>
    `${indent}${cells.map((cell, i) => padded(cell, widths[i]!, heads[i]!.side)).join(GAP)}`.trimEnd();
  const linesOf = (row: readonly string[]): string[] => {
    const cells = row.map((cell, i) => wrapped(cell, widths[i]!));
    const height = Math.max(...cells.map((lines) => lines.length));
    return Array.from({ length: height }, (_, n) => lineOf(cells.map((lines) => lines[n] ?? '')));
  };
  return [lineOf(heads.map(({ title }) => title)), ...rows.flatMap(linesOf)];
}

/** A text after a lead-in, wrapped, its further lines set in by as much as the lead-in takes. */
export function paragraph(lead: string, text: string): string[] {
  const room = Math.max(20, REPORT_WIDTH - columns(lead));
  return wrapped(text, room).map((line, i) =>
    `${i === 0 ? lead : ' '.repeat(columns(lead))}${line}`.trimEnd(),
  );
}
