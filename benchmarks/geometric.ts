import type { LinearPrograms } from '../src/algorithms/linear-program.js';
import { planSession } from '../src/session/plan.js';
import { blocksOnABase } from './blocks-on-a-base.js';
import { row } from './printing.js';

/** How much of a run is done. */
export interface GeometricRun {
  readonly parts: readonly number[];
  /** Seconds for the whole of planning; the plan is checked within them as far as the estimate of `planning/time-to-finish.ts` is right. */
  readonly patience: number;
  /** Steps at most. */
  readonly steps?: number;
}

/**
 * Whole plans of weldments with shapes: seconds of processor time of this process to the first whole order and to the checked
 * plan, so that a busy machine does not count; steps of both, and how far the least time that is still possible is below the plan's.
 */
export function geometricWeldments(programs: LinearPrograms, { parts, patience, steps }: GeometricRun): void {
  for (const count of parts) {
    const start = process.cpuUsage();
    const clock = (): number => process.cpuUsage(start).user / 1e6;
    let first: { readonly seconds: number; readonly steps: number } | undefined;
    const outcome = planSession(blocksOnABase(count), {
      ...{ programs, clock, seconds: patience, steps },
      onProgress: (progress) => {
        if (progress.best) first ??= { seconds: clock(), steps: progress.steps };
      },
    });
    const name = `first plan of ${count} blocks on a base`;
    if (outcome.kind !== 'planned' || outcome.plan.kind !== 'geometric') row(name, [clock()], outcome.kind);
    else row(name, [first!.seconds], toldOf(outcome.plan, first!.steps, clock()));
  }
}

type Planned = Extract<
  Extract<ReturnType<typeof planSession>, { kind: 'planned' }>['plan'],
  { kind: 'geometric' }
>;

function toldOf({ objective, proof, stages }: Planned, steps: number, whole: number): string {
  const terms = objective.map(({ term, value, bound }) => `${term} ${value} (bound ${bound})`).join(', ');
  return `${steps} steps; checked plan of ${stages.length} stages after ${whole.toFixed(1)} s, ${proof.outcome}, ${proof.states} steps: ${terms}`;
}
