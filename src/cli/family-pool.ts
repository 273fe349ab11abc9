import { Piscina } from 'piscina';
import { knownAThread } from '../family/known-facts.js';
import type { SharedByTasks } from '../family/session.js';
import type { FamilyTask, FamilyTaskResult } from '../family/task.js';
import { compileLater } from './compile-later.js';
import type { WorkerGiven } from './family-worker.js';

const WORKER = new URL('./family-worker.js', import.meta.url).href;

/**
 * Twice what a thread has by itself for what is new, MB: planning makes much that dies at once, and half as many
 * collections spare a twentieth of all processor time. More than this brought no more.
 */
const NEW_ROOM = 96;

interface Waiting {
  readonly task: FamilyTask;
  readonly start: (thread: Thread) => void;
  readonly refuse: (error: Error) => void;
}

/** A thread that is kept from task to task, and the variants that it still knows, the last one at the end. */
class Thread {
  busy = false;
  private known: readonly string[] = [];
  private readonly pool: Piscina<FamilyTask, FamilyTaskResult>;

  constructor(
    shared: SharedByTasks,
    private readonly most: number,
  ) {
    this.pool = new Piscina({
      ...{ filename: WORKER, minThreads: 1, maxThreads: 1, concurrentTasksPerWorker: 1 },
      workerData: { shared, most } satisfies WorkerGiven,
      // They run what is built: a loader or a debugger of whoever starts them would only cost them time.
      execArgv: [],
      resourceLimits: { maxYoungGenerationSizeMb: NEW_ROOM },
    });
    // Whatever ends a thread is told by the task that it had.
    this.pool.on('error', () => undefined);
  }

  knows({ variant }: FamilyTask): boolean {
    return this.known.includes(variant.text);
  }

  async run(task: FamilyTask): Promise<FamilyTaskResult> {
    const { text } = task.variant;
    this.known = [...this.known.filter((other) => other !== text), text].slice(-this.most);
    return this.pool.run(task);
  }

  close(): Promise<void> {
    return this.pool.destroy();
  }
}

/**
 * Threads that do one task at a time each: the first that waits of a variant that the thread still knows, else the first of all.
 * Which thread does a task changes how long it takes, never what it comes to.
 */
export class FamilyPool {
  private readonly threads: readonly Thread[];
  private waiting: readonly Waiting[] = [];
  private closed = false;

  constructor(
    threads: number,
    shared: SharedByTasks,
    /** Is told how long each task took on its thread. */
    private readonly onTime: (task: FamilyTask, seconds: number) => void = () => undefined,
  ) {
    compileLater();
    this.threads = Array.from({ length: threads }, () => new Thread(shared, knownAThread(threads)));
  }

  /** Rejects where the thread fails, and where the pool is closed before the task is done. */
  async run(task: FamilyTask): Promise<FamilyTaskResult> {
    const thread = await new Promise<Thread>((start, refuse) => {
      this.waiting = [...this.waiting, { task, start, refuse }];
      this.handOut();
    });
    const begun = performance.now();
    try {
      return await thread.run(task);
    } finally {
      this.onTime(task, (performance.now() - begun) / 1000);
      thread.busy = false;
      this.handOut();
    }
  }

  /** Gives every idle thread the task that suits it. */
  private handOut(): void {
    if (this.closed) {
      for (const { refuse } of this.waiting) refuse(new Error('the threads were ended'));
      this.waiting = [];
    }
    for (const thread of this.threads) {
      if (thread.busy) continue;
      const next = this.waiting.find(({ task }) => thread.knows(task)) ?? this.waiting[0];
      if (next === undefined) return;
      this.waiting = this.waiting.filter((one) => one !== next);
      thread.busy = true;
      next.start(thread);
    }
  }

  /** Ends all threads at once, whatever they are at. */
  async close(): Promise<void> {
    this.closed = true;
    this.handOut();
    await Promise.all(this.threads.map((thread) => thread.close()));
  }
}
