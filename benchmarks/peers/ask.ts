import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { median } from '../printing.js';
import { seededOrdering, seededWeldment } from './instances.js';
import { judgeOrdering, judgeWeldment } from './judge.js';
import { OBJECTIVE, type Task, type Told } from './task.js';
import type { Choice } from './weldment-model.js';

/** What one contestant took for one instance, seconds; nothing proved within the limit counts as the limit. */
export interface Taken {
  /** Loading the code and the engine. */
  readonly load: number;
  /** The first instance that the process solves. */
  readonly cold: number;
  readonly warm: number;
  readonly first: number | undefined;
  /** The cost that the judge counts; undefined without a proof in time. */
  readonly cost: string | undefined;
}

/** Asks a contestant in a fresh process and has the answer judged here. Throws when the answer is not legal. */
export function ask(task: Task): Taken {
  const child = spawnSync(
    process.execPath,
    ['--import', 'tsx', join(import.meta.dirname, 'one.ts'), JSON.stringify(task)],
    { encoding: 'utf8' },
  );
  if (child.status !== 0) throw new Error(`${task.who} ended with ${child.status}: ${child.stderr}`);
  const { answer, load, cold, warm } = JSON.parse(child.stdout) as Told;
  if (answer.status !== 'optimal')
    return {
      load,
      cold,
      warm: cold,
      first: undefined,
      cost: answer.status === 'infeasible' ? 'none' : undefined,
    };
  const judged =
    task.kind === 'weldment'
      ? judgeWeldment(seededWeldment(task.seed, task.size), OBJECTIVE, answer.plan as readonly Choice[])
      : judgeOrdering(seededOrdering(task.seed, task.size), answer.plan as readonly number[]);
  if (!judged.ok)
    throw new Error(`${task.who}, ${task.kind} ${task.size}, seed ${task.seed}: ${judged.error}`);
  return {
    load,
    cold,
    warm: warm.length === 0 ? cold : median(warm),
    first: answer.firstAfter,
    cost: String(judged.value),
  };
}
