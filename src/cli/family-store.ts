import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { asKept, keptText, readKept, taskKey } from '../family/kept-task.js';
import type { FamilyTask, FamilyTaskResult } from '../family/task.js';
import type { Issue } from '../model/issue.js';
import { writeWhole } from './files.js';

/** Where finished tasks are kept from one run to the next, a file for each, named by what its result depends on. */
export class FamilyStore {
  constructor(
    private readonly folder: string,
    /** What the results of all tasks depend on besides the task. */
    private readonly shared: unknown,
  ) {}

  /** What an earlier run left of this very task, if it is there and whole. */
  taken(task: FamilyTask): FamilyTaskResult | undefined {
    const key = taskKey(task, this.shared);
    try {
      return readKept(readFileSync(this.fileOf(key), 'utf8'), key, task);
    } catch {
      return undefined; // not there, or not to be read: made again
    }
  }

  /** Keeps a result; the issue that stopped that. */
  keep(task: FamilyTask, result: FamilyTaskResult): Issue | undefined {
    const key = taskKey(task, this.shared);
    const written = writeWhole(this.fileOf(key), keptText(key, asKept(result)));
    return written.ok ? undefined : written.error;
  }

  private fileOf(key: string): string {
    return join(this.folder, `${key}.json`);
  }
}
