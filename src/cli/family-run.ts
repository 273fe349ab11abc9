import { asKept } from '../family/kept-task.js';
import type { FamilyTask, FamilyTaskResult, RunTask } from '../family/task.js';
import type { Issue } from '../model/issue.js';
import { EXIT } from './exit-codes.js';

export interface TaskMeans {
  /** Does a task on a thread. */
  readonly run: RunTask;
  /** Ends the threads, so that what runs on them is rejected. */
  readonly stop: () => Promise<void>;
  /** Keeps what is done, where it shall be kept. */
  readonly store:
    | {
        readonly taken: (task: FamilyTask) => FamilyTaskResult | undefined;
        readonly keep: (task: FamilyTask, result: FamilyTaskResult) => Issue | undefined;
      }
    | undefined;
}

/** How many tasks are done, and how many of these an earlier run left. */
export interface TaskCounts {
  readonly done: number;
  readonly taken: number;
}

type Ending =
  | { readonly kind: 'interrupted' }
  /** A result could not be kept. */
  | { readonly kind: 'failed'; readonly issue: Issue }
  | { readonly kind: 'defect'; readonly task: FamilyTask; readonly error: unknown };

/** How the work of a family ended. */
export type FamilyRun<T> = ({ readonly kind: 'done'; readonly value: T } | Ending) & {
  readonly counts: TaskCounts;
};

/**
 * Does `work` with tasks that are done on threads or taken from what an earlier run left, each kept as soon as it is done. The
 * first interrupt ends the running tasks, the second the process. Where it ends before it is done, `work` is told by its
 * second argument and by tasks that are rejected, and what it gives then is not used.
 */
export async function runTasks<T>(
  work: (run: RunTask, stopRequested: () => boolean) => Promise<T>,
  means: TaskMeans,
): Promise<FamilyRun<T>> {
  const ending = new EndOfTasks(means);
  let [done, taken] = [0, 0];
  const run: RunTask = async (task) => {
    const earlier = means.store?.taken(task);
    const result = earlier ?? (await made(task, means, ending));
    done += 1;
    if (earlier !== undefined) taken += 1;
    return result;
  };
  try {
    const value = await work(run, () => ending.how !== undefined);
    const counts = { done, taken };
    return ending.how === undefined ? { kind: 'done', value, counts } : { ...ending.how, counts };
  } catch (error) {
    if (ending.how === undefined) throw error;
    return { ...ending.how, counts: { done, taken } };
  } finally {
    await ending.close();
  }
}

/** A task done anew and kept. */
async function made(
  task: FamilyTask,
  { run, store }: TaskMeans,
  ending: EndOfTasks,
): Promise<FamilyTaskResult> {
  try {
    const result = asKept(await run(task));
    const issue = store?.keep(task, result);
    if (issue !== undefined) ending.come({ kind: 'failed', issue });
    return result;
  } catch (error) {
    ending.come({ kind: 'defect', task, error });
    throw error;
  }
}

/** Whether and how work has come to an end early; interrupts are heard from the beginning up to `close`. */
class EndOfTasks {
  how: Ending | undefined;
  private stopped: Promise<void> | undefined;

  constructor(private readonly means: TaskMeans) {
    process.on('SIGINT', this.interrupt);
    process.on('SIGTERM', this.interrupt);
  }

  /** The first one counts. */
  come(how: Ending): void {
    this.how ??= how;
    this.stopped ??= this.means.stop();
  }

  async close(): Promise<void> {
    await (this.stopped ??= this.means.stop());
    process.off('SIGINT', this.interrupt);
    process.off('SIGTERM', this.interrupt);
  }

  private readonly interrupt = (): void => {
    if (this.how !== undefined) process.exit(EXIT.interrupted);
    process.stderr.write('\nstopping (interrupt again to leave at once)\n');
    this.come({ kind: 'interrupted' });
  };
}
