import { workerData } from 'piscina';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import { carryOut } from '../family/carry-out.js';
import { KnownFacts } from '../family/known-facts.js';
import type { SharedByTasks } from '../family/session.js';
import type { FamilyTask, FamilyTaskResult } from '../family/task.js';

/** What a thread is given once. */
export interface WorkerGiven {
  readonly shared: SharedByTasks;
  /** Variants of which it keeps what it learns. */
  readonly most: number;
}

const { shared, most } = workerData as WorkerGiven;
const programs = await loadLinearPrograms();
const known = new KnownFacts(most);

/** One task on a thread of the pool, which keeps what it learns of a variant for the next plan of that; no result rests on it. */
export default function work(task: FamilyTask): FamilyTaskResult {
  return carryOut(task, { ...shared, programs, known, clock: () => performance.now() / 1000 });
}
