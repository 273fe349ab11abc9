import type { MessagePort } from 'node:worker_threads';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import type { RunResult } from '../study/row.js';
import type { Told } from '../study/run-heuristic.js';
import { runTask, type RunTask } from '../study/run-task.js';
import { loadModule } from './load-module.js';

/** What a thread tells before its answer: that it has begun, and orders on the way, which outlive it. */
export type WorkerMessage = { readonly kind: 'begun' } | { readonly kind: 'told'; readonly told: Told };

/** A run for a thread of the pool. */
export interface WorkerTask {
  readonly run: RunTask;
  readonly port: MessagePort | undefined;
}

/** What a heuristic prints is for the person at the terminal and must not get into the output of the command. */
function printToStandardError(): void {
  process.stdout.write = process.stderr.write.bind(process.stderr) as typeof process.stdout.write;
}

export default function work({ run, port }: WorkerTask): Promise<RunResult> {
  if ('module' in run.solver) printToStandardError();
  const send = (message: WorkerMessage): void => port?.postMessage(message);
  send({ kind: 'begun' });
  return runTask(run, {
    clock: () => performance.now() / 1000,
    loadPrograms: loadLinearPrograms,
    loadModule,
    tell: (told) => send({ kind: 'told', told }),
  });
}
