import { CsvError, parse, type Info } from 'csv-parse/sync';
import { fail, ok, type Result } from '../../base/result.js';

const NEUTRALISED = /^'+[=+\-@\t\r]/;

/** The text that was there before `neutralText`. */
export const plainText = (cell: string): string => (NEUTRALISED.test(cell) ? cell.slice(1) : cell);

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

export interface CsvDialect {
  readonly separator?: ',' | ';' | '\t';
  /** Whether lines that start with # are passed over. */
  readonly comments?: boolean;
}

/** The records of a text by RFC 4180, or of a dialect of it; empty lines are passed over. */
export function readCsv(
  text: string,
  { separator = ',', comments = false }: CsvDialect = {},
): Result<readonly CsvRecord[], CsvProblem> {
  try {
    const records = parse(text, {
      ...{ bom: true, info: true, skip_empty_lines: true, relax_column_count: true },
      ...(comments ? { comment: '#', comment_no_infix: true } : {}),
      record_delimiter: ['\r\n', '\n'],
      delimiter: separator,
    }) as unknown as readonly { readonly record: string[]; readonly info: Info }[];
    return ok(records.map(({ record, info }) => ({ line: info.lines, fields: record })));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = (error as unknown as { readonly lines?: number }).lines ?? 0;
    return fail({ line, problem: 'a quotation mark is not closed or stands inside a plain field' });
  }
}
