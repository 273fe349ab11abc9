import { LONGEST_TEXT } from '../document.js';
import { cellOfText, textOf } from './cell-value.js';
import { readCsv, type CsvDialect } from './csv-records.js';
import { tableIssue, tableOfRows, type TableOptions, type TableReading } from './table.js';

/**
 * Reads a table of separated values (RFC 4180): names of columns, perhaps a row of units, then the data. Commas
 * separate, or semicolons or tabs where the first line has them and no comma, as spreadsheets write them; with these
 * 0,5 is a number. Lines that start with # and empty ones are passed over.
 */
export function readCsvTable(text: string, file: string, options: TableOptions = {}): TableReading {
  const refuse = (line: number, problem: string, remedy: string): TableReading => ({
    table: undefined,
    issues: [tableIssue(file, line, '', problem, remedy)],
  });
  if (text.length > LONGEST_TEXT)
    return refuse(0, `the file has ${text.length} characters`, `at most ${LONGEST_TEXT} are read`);
  const separator = separatorOf(text);
  const read = readCsv(text, { separator, comments: true });
  if (!read.ok)
    return refuse(
      read.error.line,
      read.error.problem,
      'write "..." round the whole field, and two marks for one inside it',
    );
  const rows = read.value.map(({ line, fields }) => ({ line, raw: fields }));
  const comma = separator !== ',';
  return tableOfRows(
    rows,
    (raw: string, asText) => (asText ? textOf(raw) : cellOfText(raw, comma)),
    file,
    options,
  );
}

/** What stands between the names of the columns. */
function separatorOf(text: string): NonNullable<CsvDialect['separator']> {
  const lines = text.split(/\r?\n/, 1000);
  const names = lines.find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  if (names.includes(',')) return ',';
  return names.includes(';') ? ';' : names.includes('\t') ? '\t' : ',';
}
