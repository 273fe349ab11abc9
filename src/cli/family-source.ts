import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fail, ok, type Result } from '../base/result.js';
import { filesBesideFamily, readFamily, type FamilyReading } from '../io/family/read-family.js';
import type { FamilyBeside } from '../io/family/variant-rows.js';
import { readXlsxTable } from '../io/tables/xlsx-table.js';
import type { Issue } from '../model/issue.js';
import { besideFile } from './files-beside.js';
import { readSource, unreadableFile } from './files.js';

/** A family that was read, with the files that it names, as they are called here. */
export interface FamilySource extends FamilyReading {
  readonly files: readonly string[];
}

/** Reads a family file and the base and the table that it names, by plain paths below its own folder. */
export async function readFamilySource(file: string): Promise<FamilySource> {
  const source = readSource(file);
  if (!source.ok) return { family: undefined, issues: [source.error], files: [] };
  const { text } = source.value;
  const named = filesBesideFamily(text);
  const files = named.map((path) => join(dirname(file), path));
  const beside: Record<string, FamilyBeside[string]> = {};
  for (const path of named) {
    const read = await readBeside(file, path);
    if (!read.ok) return { family: undefined, issues: read.error, files };
    beside[path] = read.value;
  }
  return { ...readFamily(text, file, beside), files };
}

async function readBeside(
  family: string,
  path: string,
): Promise<Result<FamilyBeside[string], readonly Issue[]>> {
  const found = besideFile(family, path, 'family file');
  if (!found.ok) return fail([found.error]);
  if (!/\.xlsx$/i.test(path)) {
    const read = readSource(found.value);
    return read.ok ? ok(read.value.text) : fail([read.error]);
  }
  return readXlsx(found.value);
}

async function readXlsx(file: string): Promise<Result<FamilyBeside[string], readonly Issue[]>> {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(file);
  } catch (error) {
    return fail([unreadableFile(file, error)]);
  }
  const { table, issues } = await readXlsxTable(bytes, file);
  return table === undefined ? fail(issues) : ok(table);
}
