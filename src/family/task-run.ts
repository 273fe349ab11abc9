import type { FamilyTask, FamilyTaskResult, RunTask } from './task.js';

/** How far a family is, for whoever waits. */
export interface FamilyProgress {
  readonly phase: 'variants' | 'envelope';
  /** Tasks that are known to be needed by now; more may follow. */
  readonly asked: number;
  readonly done: number;
  /** Different patterns so far. */
  readonly patterns: number;
}

/** Hands out the tasks of a family, counts them, and stops when that is asked for. */
export class TaskRun {
  private asked = 0;
  private finished = 0;
  private patterns = 0;
  private phase: FamilyProgress['phase'] = 'variants';

  constructor(
    private readonly carryOut: RunTask,
    private readonly stopRequested: () => boolean,
    private readonly onProgress: (progress: FamilyProgress) => void,
  ) {}

  /** What the task came to; undefined where a stop was asked for meanwhile, also if the stop made the task fail. */
  async run(task: FamilyTask): Promise<FamilyTaskResult | undefined> {
    if (this.stopRequested()) return undefined;
    this.asked += 1;
    this.tell();
    try {
      const result = await this.carryOut(task);
      if (this.stopRequested()) return undefined;
      this.finished += 1;
      this.tell();
      return result;
    } catch (error) {
      if (this.stopRequested()) return undefined;
      throw error;
    }
  }

  get stopped(): boolean {
    return this.stopRequested();
  }

  get done(): number {
    return this.finished;
  }

  foundPattern(): void {
    this.patterns += 1;
    this.tell();
  }

  /** From now on places between the variants are tried. */
  beginEnvelope(): void {
    this.phase = 'envelope';
    this.tell();
  }

  private tell(): void {
    const { phase, asked, finished: done, patterns } = this;
    this.onProgress({ phase, asked, done, patterns });
  }
}
