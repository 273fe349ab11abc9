import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readFileSync,
  writeSync,
} from 'node:fs';
import { fail, ok, type Result } from '../base/result.js';
import type { Issue } from '../model/issue.js';
import { HEADER, rowLine } from '../study/results-csv.js';
import { resume } from '../study/resume.js';
import type { Limits, Row } from '../study/row.js';
import { isDevice, unwritable } from './files.js';

/** A file of results that rows are added to, each of them safe on the disk before the next run begins. */
export class ResultsFile {
  private constructor(
    private readonly file: string,
    private readonly descriptor: number,
    private size: number,
    /** Keys of the runs that are there. */
    readonly done: ReadonlySet<string>,
  ) {}

  /** Makes the file, or takes it up: a torn last line is cut away. Nothing is changed where it is refused. */
  static open(file: string, limits: Limits): Result<ResultsFile, readonly Issue[]> {
    const closed = unwritable(file);
    if (closed !== undefined) return fail([closed]);
    if (isDevice(file)) return fail([issueOf(file, 'this is no file on a disk', NO_DEVICE)]);
    try {
      const content = existsSync(file) ? readFileSync(file) : Buffer.alloc(0);
      const { begun, issues } = resume(content.toString('utf8'), file, limits);
      if (begun === undefined) return fail(issues);
      const size = Buffer.byteLength(begun.whole, 'utf8');
      if (!content.subarray(0, size).equals(Buffer.from(begun.whole, 'utf8')))
        return fail([issueOf(file, 'the file is not UTF-8 text', 'give another file with --out')]);
      const descriptor = openSync(file, 'a');
      ftruncateSync(descriptor, size);
      const results = new ResultsFile(file, descriptor, size, begun.done);
      if (size === 0) results.append(HEADER);
      return ok(results);
    } catch (error) {
      return fail([failed(file, error)]);
    }
  }

  /** The issue that stopped the row from being kept, if any. */
  add(row: Row): Issue | undefined {
    try {
      if (fstatSync(this.descriptor).size !== this.size) return shared(this.file);
      this.append(rowLine(row));
      return undefined;
    } catch (error) {
      return failed(this.file, error);
    }
  }

  private append(text: string): void {
    const bytes = Buffer.from(text, 'utf8');
    for (let written = 0; written < bytes.length;) written += writeSync(this.descriptor, bytes, written);
    fsyncSync(this.descriptor);
    this.size += bytes.length;
  }

  close(): void {
    closeSync(this.descriptor);
  }
}

const NO_DEVICE = 'give a file with --out: rows are read again when a study is taken up';

const issueOf = (file: string, problem: string, remedy: string): Issue => ({
  ...{ code: 'file', severity: 'error', file, line: 0, path: '', problem, remedy },
});

const failed = (file: string, error: unknown): Issue => {
  const code = (error as { code?: string }).code ?? 'unknown';
  return issueOf(
    file,
    `the file cannot be written (${code})`,
    'check the folder, its permissions and its space',
  );
};

const shared = (file: string): Issue =>
  issueOf(
    file,
    'something else writes into this file',
    'let each study have a file of its own, and merge them',
  );
