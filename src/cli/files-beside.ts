import { existsSync, realpathSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fail, ok, type Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';

/**
 * Where the file is that another one names by a plain path from its own folder. One that is only a link to somewhere out of
 * that folder is refused; `kind` says what names it, as `cell file`. One that is not there is told when it is read.
 */
export function besideFile(of: string, path: string, kind: string): Result<string, Issue> {
  const folder = dirname(of);
  const file = join(folder, path);
  return leaves(folder, file) ? fail(outside(file, kind)) : ok(file);
}

/** Whether a file is, links followed, not below a folder. */
function leaves(folder: string, file: string): boolean {
  if (!existsSync(file)) return false;
  const way = relative(realpathSync(folder), realpathSync(file));
  return way === '..' || way.startsWith(`..${sep}`) || way.startsWith(sep);
}

const outside = (file: string, kind: string): Issue => ({
  code: 'file',
  severity: 'error',
  file,
  line: 0,
  path: '',
  problem: `this is a link out of the folder of the ${kind}`,
  remedy: 'copy the file there',
});
