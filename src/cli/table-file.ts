import { readFileSync } from 'node:fs';
import { readCsvTable } from '../io/tables/csv-table.js';
import type { TableOptions, TableReading } from '../io/tables/table.js';
import { readWorkbook, tableOfSheet } from '../io/tables/xlsx-table.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import { readSource, unreadableFile } from './files.js';

/** A file of tables that was opened: a workbook of sheets, or one table of separated values. */
export interface TableFile {
  /** Its one table; of a workbook the sheet of this name, else the first. */
  readonly table: (sheet: string, options: TableOptions) => TableReading;
  /** The sheet of this name; undefined where there is none. */
  readonly sheet: (sheet: string, options: TableOptions) => TableReading | undefined;
}

/** Opens a file of tables: a workbook by its ending .xlsx, anything else as separated values. */
export async function openTables(file: string): Promise<Result<TableFile, readonly Issue[]>> {
  return /\.xlsx$/i.test(file) ? openWorkbook(file) : openText(file);
}

function openText(file: string): Result<TableFile, readonly Issue[]> {
  const source = readSource(file);
  if (!source.ok) return fail([source.error]);
  const { text } = source.value;
  return ok({ table: (_, options) => readCsvTable(text, file, options), sheet: () => undefined });
}

async function openWorkbook(file: string): Promise<Result<TableFile, readonly Issue[]>> {
  const bytes = bytesOf(file);
  if (!bytes.ok) return bytes;
  const { sheets, issues } = await readWorkbook(bytes.value, file);
  if (sheets?.[0] === undefined) return fail(issues);
  const first = sheets[0];
  const nameOf = (sheet: string): string => (sheets.length > 1 ? `${file} [${sheet}]` : file);
  const named = (wanted: string) => sheets.find(({ name }) => name.toLowerCase() === wanted);
  return ok({
    table: (wanted, options) => {
      const sheet = named(wanted) ?? first;
      return tableOfSheet(sheet, nameOf(sheet.name), options);
    },
    sheet: (wanted, options) => {
      const sheet = named(wanted);
      return sheet && tableOfSheet(sheet, nameOf(sheet.name), options);
    },
  });
}

function bytesOf(file: string): Result<Uint8Array, readonly Issue[]> {
  try {
    return ok(readFileSync(file));
  } catch (error) {
    return fail([unreadableFile(file, error)]);
  }
}
