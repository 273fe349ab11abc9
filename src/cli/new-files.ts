import { lstatSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import type { Issue } from '../model/issue.js';

interface NewFile {
  readonly file: string;
  readonly text: string;
}

/** The issue of a file that is not to be replaced. */
export const alreadyThere = (file: string, remedy: string): Issue => ({
  ...{ code: 'file-there', severity: 'error', file, line: 0, path: '' },
  ...{ problem: 'the file is there already, and was left as it is', remedy },
});

/** Whether anything is at a path, a link that leads nowhere too. */
export function isThere(file: string): boolean {
  try {
    return lstatSync(file, { throwIfNoEntry: false }) !== undefined;
  } catch {
    return false; // not even a folder it could be in, which writing tells
  }
}

/**
 * Writes files that are not there yet into a folder, which is made when it is not there: all of them, or none when one
 * is there or cannot be written. Empty when all are written.
 */
export function writeAllNew(folder: string, files: readonly NewFile[]): readonly Issue[] {
  const there = files.filter(({ file }) => isThere(file));
  if (there.length > 0)
    return there.map(({ file }) => alreadyThere(file, 'give another name, or another folder with --out'));
  const made: string[] = [];
  let file = folder;
  try {
    const parent = mkdirSync(folder, { recursive: true });
    if (parent !== undefined) made.push(parent);
    for (const one of files) {
      file = one.file;
      writeFileSync(file, one.text, { flag: 'wx' });
      made.push(file);
    }
    return [];
  } catch (error) {
    for (const path of made) rmSync(path, { force: true, recursive: true });
    return [notWritten(file, error)];
  }
}

function notWritten(file: string, error: unknown): Issue {
  const { code = 'unknown' } = error as { code?: string };
  const base = { code: 'file', severity: 'error', file, line: 0, path: '' } as const;
  if (code === 'EEXIST' || code === 'ENOTDIR')
    return { ...base, problem: 'a file is in the way of this folder', remedy: 'name another folder' };
  return {
    ...base,
    problem: `the file cannot be written (${code})`,
    remedy: 'check the folder and its permissions',
  };
}
