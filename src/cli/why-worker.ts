import { parentPort, workerData } from 'node:worker_threads';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import type { Question } from '../explain/why/question.js';
import type { Source, Sources } from '../session/inputs.js';
import { whySession, type WhyOutcome, type WhyProgress } from '../session/why.js';
import type { StoppableJob } from './stoppable-thread.js';

/** What the thread that answers is given. */
export interface WhyJob extends StoppableJob {
  readonly plan: Source;
  readonly sources: Omit<Sources, 'settings'>;
  readonly questions: readonly Question[];
  readonly steps: number | undefined;
  readonly seconds: number | undefined;
}

export type WhyMessage =
  | { readonly kind: 'progress'; readonly progress: WhyProgress }
  | { readonly kind: 'outcome'; readonly outcome: WhyOutcome };

const { plan, sources, questions, steps, seconds, stop } = workerData as WhyJob;
const stopped = new Int32Array(stop);
const send = (message: WhyMessage): void => parentPort!.postMessage(message);

const outcome = whySession(plan, sources, questions, {
  programs: await loadLinearPrograms(),
  ...{ steps, seconds },
  clock: () => performance.now() / 1000,
  stopRequested: () => Atomics.load(stopped, 0) !== 0,
  onProgress: (progress) => send({ kind: 'progress', progress }),
});
send({ kind: 'outcome', outcome });
