import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { compareText } from '../base/order.js';
import { fail, ok, type Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import type { Source } from '../session/inputs.js';
import { isInstance } from '../study/read-instance.js';
import { readSource } from './files.js';

/** A packed file may unpack to this many bytes; more is taken for a trap (our choice). */
const MOST_BYTES = 256_000_000;

/** The texts of instance files, in the order given; a folder stands for the instance files in it, by name. */
export function readInstanceFiles(paths: readonly string[]): {
  readonly sources: readonly Source[];
  readonly issues: readonly Issue[];
} {
  const sources: Source[] = [];
  const issues: Issue[] = [];
  for (const path of paths) {
    const folder = statSync(path, { throwIfNoEntry: false })?.isDirectory() === true;
    const read = (folder ? filesIn(path) : [path]).map(readPacked);
    const found = read.flatMap((one) => (one.ok && (!folder || isInstance(one.value)) ? [one.value] : []));
    sources.push(...found);
    for (const one of read) if (!one.ok) issues.push(one.error);
    if (folder && found.length === 0)
      issues.push(
        issueOf(path, 'there is no instance file in this folder', 'name the folder that holds them'),
      );
  }
  return { sources, issues };
}

/** What may be an instance by the end of its name, so that nothing else of a folder is read. */
const filesIn = (folder: string): readonly string[] =>
  readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !entry.isDirectory() && /\.(sop|json|ya?ml)(\.gz)?$/i.test(entry.name))
    .map(({ name }) => join(folder, name))
    .sort(compareText);

function readPacked(file: string): Result<Source, Issue> {
  if (!/\.gz$/i.test(file)) return readSource(file);
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(
      gunzipSync(readFileSync(file), { maxOutputLength: MOST_BYTES }),
    );
    return ok({ text, name: file });
  } catch (error) {
    const code = (error as { code?: string }).code ?? 'unknown';
    if (code === 'ENOENT') return fail(issueOf(file, 'there is no such file', 'check the path'));
    return fail(
      issueOf(file, `the file cannot be unpacked (${code})`, 'give a whole gzip file of UTF-8 text'),
    );
  }
}

const issueOf = (file: string, problem: string, remedy: string): Issue => ({
  ...{ code: 'file', severity: 'error', file, line: 0, path: '', problem, remedy },
});
