import {
  accessSync,
  constants,
  existsSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { fail, ok, type Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import type { Source } from '../session/inputs.js';

const unreadable = (file: string, problem: string, remedy: string): Issue => ({
  code: 'file',
  severity: 'error',
  file,
  line: 0,
  path: '',
  problem,
  remedy,
});

/** The text of a file (UTF-8), or the issue that stops it from being read. */
export function readSource(file: string): Result<Source, Issue> {
  try {
    const bytes = readFileSync(file);
    return ok({ text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), name: file });
  } catch (error) {
    if (error instanceof TypeError)
      return fail(unreadable(file, 'the file is not UTF-8 text', 'save it as UTF-8'));
    return fail(unreadableFile(file, error));
  }
}

/** The issue of a file that reading failed for. */
export function unreadableFile(file: string, error: unknown): Issue {
  const code = (error as { code?: string }).code;
  if (code === 'ENOENT') return unreadable(file, 'there is no such file', 'check the path');
  if (code === 'EISDIR') return unreadable(file, 'this is a folder', 'name a file in it');
  return unreadable(file, `the file cannot be read (${code ?? 'unknown'})`, 'check its permissions');
}

/** The issue that will stop a file from being written, found before long work is done for it. */
export function unwritable(file: string): Issue | undefined {
  if (file === '') return unreadable('""', 'the name of the file is empty', 'give one');
  const folder = dirname(file);
  try {
    if (/[/\\]$/.test(file) || (existsSync(file) && statSync(file).isDirectory()))
      return unreadable(file, 'this is a folder', 'name a file in it');
    accessSync(folder, constants.W_OK);
    return undefined;
  } catch (error) {
    const missing = (error as { code?: string }).code === 'ENOENT';
    const problem = missing
      ? `there is no folder "${folder}"`
      : `the folder "${folder}" cannot be written to`;
    return unreadable(file, problem, missing ? 'make it first' : 'check its permissions');
  }
}

/** A file to write. */
export interface WantedFile {
  readonly file: string;
  readonly text: string;
}

/** Writes a file whole or not at all, see `writeAll`. */
export const writeWhole = (file: string, text: string): Result<undefined, Issue> =>
  writeAll([{ file, text }]);

/**
 * Writes files whole or not at all: each to a temporary file beside it, and when all are there, these are renamed. A link
 * stays, and what it points to is written. What is no file on a disk, as /dev/null or a pipe, is written into; a rename
 * would put a file in its place.
 */
export function writeAll(files: readonly WantedFile[]): Result<undefined, Issue> {
  const waiting: { temporary: string; target: string }[] = [];
  let at = '';
  try {
    for (const { file, text } of files) {
      at = file;
      if (isDevice(file)) continue;
      const target = existsSync(file) ? realpathSync(file) : file;
      const temporary = `${target}.${process.pid}.tmp`;
      waiting.push({ temporary, target });
      writeFileSync(temporary, text, { flag: 'wx' });
    }
    for (const { file, text } of files) {
      at = file;
      if (isDevice(file)) writeFileSync(file, text);
    }
    for (const { temporary, target } of waiting) {
      at = target;
      renameSync(temporary, target);
    }
    return ok(undefined);
  } catch (error) {
    for (const { temporary } of waiting) rmSync(temporary, { force: true });
    const code = (error as { code?: string }).code ?? 'unknown';
    return fail(
      unreadable(at, `the file cannot be written (${code})`, 'check the folder and its permissions'),
    );
  }
}

/** Whether a path is there and neither a file nor a folder: a device, a pipe or a socket. */
export function isDevice(file: string): boolean {
  const found = statSync(file, { throwIfNoEntry: false });
  return found !== undefined && !found.isFile() && !found.isDirectory();
}

/** Whether two paths are one file; false when either does not exist. */
export function sameFile(a: string, b: string): boolean {
  try {
    return realpathSync(a) === realpathSync(b);
  } catch {
    return false;
  }
}
