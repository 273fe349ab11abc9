import { besidePathSchema } from '../../model/scalars.js';
import type { Issue } from '../../model/issue.js';
import type { SourceDocument } from '../document.js';
import { issueAt, type Complaint } from '../issue-at.js';
import { entriesAt, membersAt } from '../raw-view.js';
import { valueAt } from '../schema-at.js';
import { readCsvTable } from '../tables/csv-table.js';
import type { Table } from '../tables/table.js';
import { fileMissing } from './base.js';

/** What a family file names and somebody else has to fetch: texts, and tables that cannot be read at once (XLSX). */
export type FamilyBeside = Readonly<Record<string, string | Table>>;

/** A row of the variants, wherever it is written. */
export interface VariantRow {
  readonly name: unknown;
  readonly line: number;
  /** What is given by the names that the file uses; an empty cell of a table is not given. */
  readonly given: ReadonlyMap<string, unknown>;
  /** An issue of the row, or of what it gives by a name. */
  readonly issue: (column: string | undefined, complaint: Complaint) => Issue;
}

export interface VariantRows {
  /** The table that has them; undefined where the family file lists them itself. */
  readonly table: Table | undefined;
  readonly rows: readonly VariantRow[];
  readonly issues: readonly Issue[];
}

/** The rows of the variants of a family file, as far as they can be found. `texts`: parameters that are texts. */
export function variantRows(
  family: SourceDocument,
  beside: FamilyBeside,
  texts: readonly string[],
): VariantRows {
  const named = valueAt(family.value, ['variants', 'file']);
  if (typeof named !== 'string' || !besidePathSchema.safeParse(named).success)
    return { table: undefined, rows: listed(family), issues: [] };
  const found = Object.hasOwn(beside, named) ? beside[named]! : undefined;
  if (found === undefined)
    return { table: undefined, rows: [], issues: [fileMissing(family, ['variants', 'file'], named)] };
  const { table, issues } =
    typeof found === 'string'
      ? readCsvTable(found, besideName(family.file, named), {
          texts: ['name', ...texts.map((word) => word.toLowerCase())],
        })
      : { table: found, issues: [] };
  return { table, rows: table === undefined ? [] : rowsOf(table), issues };
}

/** What messages call a file beside another: its path below the folder of that one. */
export const besideName = (file: string, path: string): string =>
  `${file.slice(0, file.lastIndexOf('/') + 1)}${path}`;

function listed(family: SourceDocument): readonly VariantRow[] {
  return entriesAt(family.value, ['variants']).map((entry) => {
    const members = membersAt(family.value, entry.path);
    const name = valueAt(entry.value, ['name']);
    return {
      name,
      line: family.lineOf(entry.path),
      given: new Map(
        members.flatMap(({ path, value }) => (path[2] === 'name' ? [] : [[String(path[2]), value] as const])),
      ),
      issue: (column, complaint) =>
        issueAt(
          { ...family, file: fileOfVariant(family.file, name) },
          column === undefined ? entry.path : [...entry.path, column],
          complaint,
        ),
    };
  });
}

const rowsOf = ({ file, columns, rows }: Table): readonly VariantRow[] =>
  rows.map(({ line, cells }) => {
    const cell = (column: string): unknown => cells[columns.indexOf(column)];
    const name = cell('name');
    return {
      name,
      line,
      given: new Map(
        columns.flatMap((column) =>
          column === 'name' || cell(column) === undefined ? [] : [[column, cell(column)] as const],
        ),
      ),
      issue: (column, complaint) => ({
        severity: 'error',
        ...complaint,
        file: fileOfVariant(file, name),
        line,
        path: column ?? '',
      }),
    };
  });

/** What messages call a file where they are about one variant of it. */
export const fileOfVariant = (file: string, variant: unknown): string =>
  typeof variant === 'string' && variant !== '' ? `${file} [${variant}]` : file;
