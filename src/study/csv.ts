import { CsvError, parse, type Info } from 'csv-parse/sync';
import { fail, ok, type Result } from '../base/result.js';

/** Ends every line of a file, as RFC 4180 has it. */
export const LINE_END = '\r\n';

/** With these a spreadsheet begins a formula (or, for the last two, may after it has trimmed the cell). */
const FORMULA = /^'*[=+\-@\t\r]/;
const NEUTRALISED = /^'+[=+\-@\t\r]/;

/**
 * A text that no spreadsheet works out: where it would begin a formula, an apostrophe stands before it, which a
 * spreadsheet takes for "this is text". `plainText` takes it away again.
 */
export const neutralText = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);

export const plainText = (cell: string): string => (NEUTRALISED.test(cell) ? cell.slice(1) : cell);

/** A field by RFC 4180: in quotation marks where it holds a comma, a mark or an end of line, its marks doubled. */
const field = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** One record with its end of line. */
export const csvLine = (fields: readonly string[]): string => `${fields.map(field).join(',')}${LINE_END}`;

export interface CsvRecord {
  /** Of the file, from 1. */
  readonly line: number;
  readonly fields: readonly string[];
}

/** What stops a text from being read as comma-separated values. */
export interface CsvProblem {
  readonly line: number;
  readonly problem: string;
}

/** The records of a text by RFC 4180; empty lines are passed over. */
export function readCsv(text: string): Result<readonly CsvRecord[], CsvProblem> {
  try {
    const records = parse(text, {
      ...{ bom: true, info: true, skip_empty_lines: true, relax_column_count: true },
      record_delimiter: ['\r\n', '\n'],
    }) as unknown as readonly { readonly record: string[]; readonly info: Info }[];
    return ok(records.map(({ record, info }) => ({ line: info.lines, fields: record })));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = (error as unknown as { readonly lines?: number }).lines ?? 0;
    return fail({ line, problem: 'a quotation mark is not closed or stands inside a plain field' });
  }
}
