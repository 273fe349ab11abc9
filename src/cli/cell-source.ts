import { dirname, join } from 'node:path';
import { ok, type Result } from '../base/result.js';
import { filesBesideCell } from '../io/read-cell.js';
import type { Issue } from '../model/issue.js';
import type { Source } from '../session/inputs.js';
import { besideFile } from './files-beside.js';
import { readSource } from './files.js';

/** A cell file with the files that it names, and what these are called here. */
export interface CellSource {
  readonly source: Result<Source, Issue>;
  readonly files: readonly string[];
}

/**
 * Reads a cell file and the files that it names by plain paths below its own folder. A file that is only a link to
 * somewhere out of that folder is refused, as is one that cannot be read; the first of them is told.
 */
export function readCellSource(file: string): CellSource {
  const cell = readSource(file);
  if (!cell.ok) return { source: cell, files: [] };
  const beside: Record<string, string> = {};
  const named = filesBesideCell(cell.value.text);
  const files = named.map((path) => join(dirname(file), path));
  for (const path of named) {
    const found = besideFile(file, path, 'cell file');
    if (!found.ok) return { source: found, files };
    const read = readSource(found.value);
    if (!read.ok) return { source: read, files };
    beside[path] = read.value.text;
  }
  return { source: ok(named.length === 0 ? cell.value : { ...cell.value, beside }), files };
}
