import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Instance } from '../study/instance.js';
import type { RunResult } from '../study/row.js';
import { errorText, HEURISTIC_SECONDS, toldResult, type Told } from '../study/run-heuristic.js';
import { emptyResult } from '../study/run-result.js';
import type { RunTask } from '../study/run-task.js';
import { compileLater } from './compile-later.js';
import type { WorkerMessage, WorkerTask } from './study-worker.js';

/** Seconds in which a thread must have begun, on however busy a machine (our choice). */
const LATEST_BEGIN = 120;

/** The longest that a timer of Node can wait, about 25 days, ms: a longer one would fire at once. */
const LONGEST_TIMER = 2 ** 31 - 1;

const WORKER = new URL('./study-worker.js', import.meta.url).href;

/**
 * Runs on threads, one run a thread at a time. Solvers of ours share threads that are kept; a user's heuristic has one to
 * itself that ends with the run, so that nothing of it reaches the next row, and that is ended when it takes too long.
 */
export class StudyPool {
  private readonly kept: Piscina<WorkerTask, RunResult>;

  constructor(
    threads: number,
    /** Seconds that a heuristic gets beyond its limit before its thread is ended. */
    private readonly grace: number,
  ) {
    compileLater();
    this.kept = poolOf(threads, {});
  }

  /** Never rejects: whatever happens to the thread is the result of the run. */
  async run(task: RunTask, instance: Instance): Promise<RunResult> {
    if ('module' in task.solver) return this.apart(task, instance);
    const begun = performance.now();
    try {
      return await this.kept.run({ run: task, port: undefined });
    } catch (error) {
      const note = `a defect of Tackwright: ${errorText(error)}`;
      return emptyResult('failed', note, instance.terms, secondsSince(begun));
    }
  }

  private async apart(run: RunTask, instance: Instance): Promise<RunResult> {
    const begun = performance.now();
    const pool = poolOf(1, { maxOldGenerationSizeMb: run.limits.megabytes });
    const { port1, port2 } = new MessageChannel();
    const seconds = (run.limits.seconds ?? HEURISTIC_SECONDS) + this.grace;
    const watched = new Watched(seconds);
    port1.on('message', (message: WorkerMessage) => watched.hear(message));
    try {
      const task: WorkerTask = { run, port: port2 };
      return await pool.run(task, { signal: watched.ended.signal, transferList: [port2] });
    } catch (error) {
      const took = secondsSince(begun);
      if (!watched.ended.signal.aborted)
        return emptyResult('failed', threadText(error), instance.terms, took);
      return endedResult(instance, watched.told, took, seconds);
    } finally {
      watched.close();
      port1.close();
      await pool.destroy();
    }
  }

  async close(): Promise<void> {
    await this.kept.destroy();
  }
}

function poolOf(
  threads: number,
  resourceLimits: { maxOldGenerationSizeMb?: number },
): Piscina<WorkerTask, RunResult> {
  const pool = new Piscina<WorkerTask, RunResult>({
    ...{ filename: WORKER, minThreads: 1, maxThreads: threads, concurrentTasksPerWorker: 1, resourceLimits },
  });
  // What a heuristic leaves behind may throw after its answer; the row is made by then.
  pool.on('error', () => undefined);
  return pool;
}

const secondsSince = (begun: number): number => (performance.now() - begun) / 1000;

const threadText = (error: unknown): string => `ended its thread (${errorText(error)})`;

/** Ends a thread some seconds after it has begun, or when it does not begin at all, and keeps what it told of. */
class Watched {
  readonly ended = new AbortController();
  told: Told | undefined;
  private timer = this.after(LATEST_BEGIN);

  constructor(private readonly seconds: number) {}

  hear(message: WorkerMessage): void {
    if (message.kind === 'told') this.told = message.told;
    else {
      clearTimeout(this.timer);
      this.timer = this.after(this.seconds);
    }
  }

  close(): void {
    clearTimeout(this.timer);
  }

  private after(seconds: number): NodeJS.Timeout {
    return setTimeout(() => this.ended.abort(), Math.min(1000 * seconds, LONGEST_TIMER));
  }
}

/** A heuristic that had to be ended: what it told of before counts, and without that the row has failed. */
function endedResult(instance: Instance, told: Told | undefined, took: number, seconds: number): RunResult {
  const note = `gave no answer in ${seconds} s and was ended`;
  if (told === undefined || instance.kind === 'weldment')
    return emptyResult('failed', note, instance.terms, took);
  return { ...toldResult(instance, told, took), note: `${note}; the best order it told of counts` };
}
