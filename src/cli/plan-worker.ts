import { parentPort, workerData } from 'node:worker_threads';
import { loadLinearPrograms } from '../algorithms/linear-program.js';
import type { SearchProgress } from '../algorithms/problem.js';
import type { TradedTerms } from '../planning/traded-terms.js';
import type { Source, Sources } from '../session/inputs.js';
import { planSession, type PlanOutcome, type PlanSessionOptions } from '../session/plan.js';
import { planOrRemedies } from '../session/remedies/plan-or-remedies.js';
import type { RemedyProgress } from '../session/remedies/search.js';
import type { StoppableJob } from './stoppable-thread.js';

/** What the planning thread is given. */
export interface PlanJob extends StoppableJob {
  readonly sources: Sources;
  readonly seed: number | undefined;
  readonly steps: number | undefined;
  readonly seconds: number | undefined;
  readonly trade: TradedTerms | undefined;
  readonly weld: boolean;
  readonly from: Source | undefined;
  /** Whether remedies are tried where there is no plan. */
  readonly remedies: boolean;
}

export type PlanMessage =
  | { readonly kind: 'progress'; readonly progress: SearchProgress }
  | { readonly kind: 'remedy'; readonly progress: RemedyProgress }
  | { readonly kind: 'outcome'; readonly outcome: PlanOutcome };

const job = workerData as PlanJob;
const stop = new Int32Array(job.stop);
const send = (message: PlanMessage): void => parentPort!.postMessage(message);

const options: PlanSessionOptions = {
  programs: await loadLinearPrograms(),
  seed: job.seed,
  steps: job.steps,
  seconds: job.seconds,
  trade: job.trade,
  weld: job.weld,
  from: job.from,
  clock: () => performance.now() / 1000,
  stopRequested: () => Atomics.load(stop, 0) !== 0,
  onProgress: (progress) => send({ kind: 'progress', progress }),
};
const outcome = job.remedies
  ? planOrRemedies(job.sources, options, { onProgress: (progress) => send({ kind: 'remedy', progress }) })
  : planSession(job.sources, options);
send({ kind: 'outcome', outcome });
