import { loadLinearPrograms } from '../algorithms/linear-program.js';
import { JOINT_TABLE } from '../io/tables/joints-table.js';
import { PART_TABLE } from '../io/tables/parts-table.js';
import type { TableReading } from '../io/tables/table.js';
import type { Issue } from '../model/issue.js';
import { nameSchema } from '../model/scalars.js';
import { plain } from '../report/plain.js';
import { importTables as imported } from '../session/import-tables.js';
import { EXIT, type ExitCode } from './exit-codes.js';
import type { ImportFlags } from './import-flags.js';
import { nameOfImport, putDraft, refuseImport, unwritableDraft } from './put-draft.js';
import { openTables } from './table-file.js';

/** `tackwright import` of tables: a weldment file of the parts in one and the joints in another, or of two sheets. */
export async function importTables(file: string, flags: ImportFlags): Promise<ExitCode> {
  const name = flags.name ?? nameOfImport(file, 'parts');
  if (!nameSchema.safeParse(name).success) {
    process.stderr.write(`"${plain(name)}" cannot be the name of a weldment: give one with --name NAME\n`);
    return EXIT.usage;
  }
  const { parts, joints, issues } = await readTables(file, flags);
  const inputs = flags.joints === undefined ? [file] : [file, flags.joints];
  const all = [...issues, ...unwritableDraft(inputs, flags)];
  if (parts === undefined || all.length > 0) return refuseImport(all);
  const outcome = imported({ name, parts, joints }, await loadLinearPrograms());
  return outcome.kind === 'drafted' ? putDraft(outcome, flags) : refuseImport(outcome.issues);
}

interface Tables {
  readonly parts: TableReading['table'];
  readonly joints: TableReading['table'];
  readonly issues: readonly Issue[];
}

/** The parts, and the joints where a file of them is named or the workbook of the parts has a sheet `joints`. */
async function readTables(file: string, { joints: beside }: ImportFlags): Promise<Tables> {
  const opened = await openTables(file);
  const other = beside === undefined ? undefined : await openTables(beside);
  const parts: TableReading = opened.ok
    ? opened.value.table('parts', PART_TABLE)
    : { table: undefined, issues: opened.error };
  const joints: TableReading | undefined =
    other === undefined
      ? opened.ok
        ? opened.value.sheet('joints', JOINT_TABLE)
        : undefined
      : other.ok
        ? other.value.table('joints', JOINT_TABLE)
        : { table: undefined, issues: other.error };
  return { parts: parts.table, joints: joints?.table, issues: [...parts.issues, ...(joints?.issues ?? [])] };
}
