import { workerData } from 'piscina';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import { carryOut } from '../family/carry-out.js';
import type { SharedByTasks } from '../family/session.js';
import type { FamilyTask, FamilyTaskResult } from '../family/task.js';

const shared = workerData as SharedByTasks;
const programs = await loadLinearPrograms();

/** One task on a thread of the pool. What a thread learns of one task it does not keep for the next. */
export default function work(task: FamilyTask): FamilyTaskResult {
  return carryOut(task, { ...shared, programs, clock: () => performance.now() / 1000 });
}
