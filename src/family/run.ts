import type { FamilyResult } from '../model/family-result.js';
import { termsOf } from './costs.js';
import { coverFamily } from './covering.js';
import { crossMembers } from './crossing.js';
import { explore } from './envelope.js';
import { membersOf } from './members.js';
import { axesOf } from './places.js';
import { familyResult, type FamilyFiles, type FamilyInputs, type FamilyPlan } from './result.js';
import type { RunTask } from './task.js';
import { TaskRun, type FamilyProgress } from './task-run.js';

export interface FamilyOptions {
  readonly run: RunTask;
  /** How many places between the corners of the ranges are tried. */
  readonly samples: number;
  /** Of the sample. */
  readonly seed: number;
  /**
   * Whether a plan of a variant is enough where nothing but its time could be better; looked for otherwise is the best plan
   * of each.
   */
  readonly quick?: boolean | undefined;
  /** What the files beside the result are called, for variants with these names; absent: there are none. */
  readonly files?: ((variants: readonly string[]) => FamilyFiles) | undefined;
  readonly onProgress?: ((progress: FamilyProgress) => void) | undefined;
  readonly stopRequested?: (() => boolean) | undefined;
}

/** What planning a family came to. */
export type FamilyOutcome =
  | {
      readonly kind: 'planned';
      readonly result: FamilyResult;
      /** Every plan that the result speaks of, but those of the envelope. */
      readonly plans: readonly FamilyPlan[];
    }
  /** Stopped by request; `done` tasks were finished before. */
  | { readonly kind: 'stopped'; readonly done: number };

/**
 * Plans every variant of a family and the corners and the middle of its ranges, finds the fewest build patterns that cover
 * the variants of the table, and where in the ranges these work. The result does not depend on the order in which tasks
 * end, nor, but for the order of its lists, on that of the table. Rejects when a task does.
 */
export async function planFamily(inputs: FamilyInputs, options: FamilyOptions): Promise<FamilyOutcome> {
  const { family } = inputs;
  const { run, stopRequested = () => false, onProgress = () => undefined, seed, quick = false } = options;
  const tasks = new TaskRun(run, stopRequested, onProgress);
  const axes = axesOf(family);
  const { members, places } = membersOf(family, axes);
  const crossing = await crossMembers(members, tasks, quick);
  if (crossing === undefined) return { kind: 'stopped', done: tasks.done };
  const terms = termsOf(crossing.plans);
  const covered = coverFamily(crossing, members, terms);
  const chosen = covered.patterns.slice(0, covered.covering.chosen.length);
  tasks.beginEnvelope();
  const explored = await explore({ family, axes, places, crossing }, chosen, options, tasks);
  if (explored === undefined) return { kind: 'stopped', done: tasks.done };
  const files = options.files?.(members.map(({ name }) => name));
  return {
    kind: 'planned',
    ...familyResult({
      ...{ inputs, axes, members, places, crossing, terms },
      ...{ covered, explored, seed, files, quick },
    }),
  };
}
