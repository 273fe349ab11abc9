import { dirname, join } from 'node:path';
import { fail, ok, type Result } from '../base/result.js';
import { filesBesideFamily } from '../io/family/read-family.js';
import type { FamilyBeside } from '../io/family/variant-rows.js';
import { readFamilySources, type FamilyRead } from '../family/session.js';
import type { Issue } from '../model/issue.js';
import { readCellSource } from './cell-source.js';
import { besideFile } from './files-beside.js';
import { readSource } from './files.js';
import { openTables } from './table-file.js';

export interface FamilySourceFlags {
  readonly cell?: string;
  readonly settings?: string;
  readonly steps?: number;
}

/** A family that was read, and every file that was touched for it. */
export interface FamilyFilesRead extends FamilyRead {
  readonly files: readonly string[];
}

/** Reads the family file with what it names, the cell and the settings. What is in them is only told once all can be read. */
export async function readFamilyFiles(file: string, flags: FamilySourceFlags): Promise<FamilyFilesRead> {
  const family = readSource(file);
  const named = family.ok ? filesBesideFamily(family.value.text) : [];
  const beside = await readBeside(file, named);
  const cell = flags.cell === undefined ? undefined : readCellSource(flags.cell);
  const settings = flags.settings === undefined ? undefined : readSource(flags.settings);
  const files = [
    ...[file, ...named.map((path) => join(dirname(file), path))],
    ...[flags.cell, ...(cell?.files ?? []), flags.settings].filter((one) => one !== undefined),
  ];
  if (!family.ok || !beside.ok || cell?.source.ok === false || settings?.ok === false) {
    const issues = [
      ...(family.ok ? [] : [family.error]),
      ...(beside.ok ? [] : beside.error),
      ...(cell?.source.ok === false ? [cell.source.error] : []),
      ...(settings?.ok === false ? [settings.error] : []),
    ];
    return { inputs: undefined, shared: undefined, issues, files };
  }
  const sources = {
    ...{ family: family.value, beside: beside.value },
    ...{ cell: cell?.source.value, settings: settings?.value },
  };
  return { ...readFamilySources(sources, flags.steps), files };
}

/** The files that a family file names by plain paths below its own folder. Of a workbook the sheet `variants` is read, else the first. */
async function readBeside(
  family: string,
  named: readonly string[],
): Promise<Result<FamilyBeside, readonly Issue[]>> {
  const beside: Record<string, FamilyBeside[string]> = {};
  for (const path of named) {
    const found = besideFile(family, path, 'family file');
    if (!found.ok) return fail([found.error]);
    const read = /\.xlsx$/i.test(path) ? await readWorkbook(found.value) : readText(found.value);
    if (!read.ok) return read;
    beside[path] = read.value;
  }
  return ok(beside);
}

function readText(file: string): Result<string, readonly Issue[]> {
  const source = readSource(file);
  return source.ok ? ok(source.value.text) : fail([source.error]);
}

async function readWorkbook(file: string): Promise<Result<FamilyBeside[string], readonly Issue[]>> {
  const opened = await openTables(file);
  if (!opened.ok) return opened;
  const { table, issues } = opened.value.table('variants', {});
  return table === undefined ? fail(issues) : ok(table);
}
