import { existsSync, realpathSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fail, ok, type Result } from '../base/result.js';
import { filesBesideCell } from '../io/read-cell.js';
import type { Issue } from '../model/issue.js';
import type { Source } from '../session/inputs.js';
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
  const folder = dirname(file);
  const named = filesBesideCell(cell.value.text);
  const files = named.map((path) => join(folder, path));
  for (const [i, path] of named.entries()) {
    if (leaves(folder, files[i]!)) return { source: fail(outside(files[i]!)), files };
    const read = readSource(files[i]!);
    if (!read.ok) return { source: read, files };
    beside[path] = read.value.text;
  }
  return { source: ok(named.length === 0 ? cell.value : { ...cell.value, beside }), files };
}

/** Whether a file is, links followed, not below a folder; one that is not there is told when it is read. */
function leaves(folder: string, file: string): boolean {
  if (!existsSync(file)) return false;
  const way = relative(realpathSync(folder), realpathSync(file));
  return way === '..' || way.startsWith(`..${sep}`) || way.startsWith(sep);
}

const outside = (file: string): Issue => ({
  code: 'file',
  severity: 'error',
  file,
  line: 0,
  path: '',
  problem: 'this is a link out of the folder of the cell file',
  remedy: 'copy the file there',
});
