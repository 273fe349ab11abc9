import { Piscina } from 'piscina';
import type { SharedByTasks } from '../family/session.js';
import type { FamilyTask, FamilyTaskResult } from '../family/task.js';

const WORKER = new URL('./family-worker.js', import.meta.url).href;

/** Threads that are kept from task to task, each with one at a time, in the order in which they are asked. */
export class FamilyPool {
  private readonly pool: Piscina<FamilyTask, FamilyTaskResult>;

  constructor(threads: number, shared: SharedByTasks) {
    this.pool = new Piscina({
      ...{ filename: WORKER, workerData: shared },
      ...{ minThreads: 1, maxThreads: threads, concurrentTasksPerWorker: 1 },
    });
    // Whatever ends a thread is told by the task that it had.
    this.pool.on('error', () => undefined);
  }

  /** Rejects where the thread fails, and where the pool is closed before the task has ended. */
  run(task: FamilyTask): Promise<FamilyTaskResult> {
    return this.pool.run(task);
  }

  /** Ends all threads at once, whatever they are at. */
  async close(): Promise<void> {
    await this.pool.destroy();
  }
}
