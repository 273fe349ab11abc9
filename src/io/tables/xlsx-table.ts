import readWorkbookFile from 'read-excel-file/universal';
import type { Issue } from '../../model/issue.js';
import { printable } from '../show.js';
import { cellOfText, textOf, type TableCell } from './cell-value.js';
import { columnLabel, tableIssue, tableOfRows, type TableOptions, type TableReading } from './table.js';

/** Bytes at most: packed a thousandfold they must still unpack, and no table of parts comes near. */
const MOST_BYTES = 4_000_000;

/** A sheet of a workbook as the library gives it. */
export interface Sheet {
  readonly name: string;
  readonly rows: readonly (readonly unknown[])[];
}

export interface WorkbookReading {
  readonly sheets: readonly Sheet[] | undefined;
  readonly issues: readonly Issue[];
}

/** The sheets of an XLSX workbook (ISO/IEC 29500), values only: of a formula the result that was saved with it. */
export async function readWorkbook(bytes: Uint8Array, file: string): Promise<WorkbookReading> {
  const refuse = (problem: string, remedy: string): WorkbookReading => ({
    sheets: undefined,
    issues: [tableIssue(file, 0, '', problem, remedy)],
  });
  if (bytes.length > MOST_BYTES)
    return refuse(
      `the file has ${bytes.length} bytes`,
      `at most ${MOST_BYTES} are read; save the one sheet as CSV`,
    );
  try {
    const sheets = await readWorkbookFile(new Uint8Array(bytes).buffer);
    return {
      sheets: sheets.map(({ sheet, data }) => ({ name: sheet, rows: data })),
      issues: [],
    };
  } catch (error) {
    const why = printable(error instanceof Error ? error.message : String(error));
    return refuse(`this is no workbook that can be read (${why})`, 'save it as .xlsx or .csv');
  }
}

/** What a spreadsheet shows where a formula failed. */
const FAILED = /^#(?:NULL!|DIV\/0!|VALUE!|REF!|NAME\?|NUM!|N\/A|SPILL!|CALC!)$/;

/** A table of the rows of a sheet. Rows whose first filled cell starts with # are passed over, as lines of a CSV file are. */
export function tableOfSheet(sheet: Sheet, file: string, options: TableOptions = {}): TableReading {
  const rows = sheet.rows
    .map((raw, i) => ({ line: i + 1, raw }))
    .filter(({ raw }) => raw.some((value) => value !== null) && !isComment(raw));
  const issues = rows.flatMap(({ line, raw }) => unusable(raw, line, file));
  return issues.length > 0 ? { table: undefined, issues } : tableOfRows(rows, cellOf, file, options);
}

function isComment(row: readonly unknown[]): boolean {
  const first = row.find((value) => value !== null);
  return typeof first === 'string' && first.startsWith('#') && !FAILED.test(first);
}

/** Dates and failed formulas: a spreadsheet makes the first of `3-2` and `1.4`, and neither is ever meant. */
const unusable = (row: readonly unknown[], line: number, file: string): readonly Issue[] =>
  row.flatMap((value, i) => {
    const column = columnLabel(i);
    if (typeof value === 'object' && value !== null)
      return [
        tableIssue(
          file,
          line,
          column,
          'the cell holds a date',
          'format it as a number or as text, and write it again',
        ),
      ];
    if (typeof value === 'string' && FAILED.test(value))
      return [
        tableIssue(
          file,
          line,
          column,
          `the formula of the cell failed (${value})`,
          'mend it, or write the value',
        ),
      ];
    return [];
  });

const cellOf = (raw: unknown, asText: boolean): TableCell => {
  if (typeof raw === 'string') return asText ? textOf(raw) : cellOfText(raw);
  if (typeof raw === 'number' || typeof raw === 'boolean') return asText ? String(raw) : raw;
  return undefined;
};

/** Reads the first sheet of an XLSX workbook as a table: names of columns, perhaps a row of units, then the data. */
export async function readXlsxTable(
  bytes: Uint8Array,
  file: string,
  options: TableOptions = {},
): Promise<TableReading> {
  const { sheets, issues } = await readWorkbook(bytes, file);
  const first = sheets?.[0];
  if (first === undefined) return { table: undefined, issues };
  return tableOfSheet(first, file, options);
}
