import { existsSync, mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Issue } from '../model/issue.js';

/** Makes a folder that is not there, and those above it; the issue that stopped it. */
export function madeFolder(folder: string): Issue | undefined {
  try {
    makeFolder(folder);
    return undefined;
  } catch (error) {
    const { code = 'unknown' } = error as { code?: string };
    const there = code === 'EEXIST' || code === 'ENOTDIR';
    return {
      ...{ code: 'file', severity: 'error', file: folder, line: 0, path: '' },
      problem: there ? 'a file is in the way of this folder' : `the folder cannot be made (${code})`,
      remedy: there ? 'name another folder' : 'check its permissions',
    };
  }
}

/**
 * Makes a folder and those above it that are missing, one by one: `mkdirSync` with `recursive` never comes back where a
 * file system takes no folders but says that the one above is missing.
 */
function makeFolder(folder: string): void {
  if (existsSync(folder) && statSync(folder).isDirectory()) return;
  const above = dirname(folder);
  if (above !== folder && !existsSync(above)) makeFolder(above);
  mkdirSync(folder);
}
