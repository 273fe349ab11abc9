import type { Waiting } from '../model/plan-handshake.js';
import type { GeometricPlan, Stage } from '../model/plan.js';
import type { RunStep } from './run-events.js';

const ordersOnly = ({ do: what }: RunStep): boolean => what === 'signal' || what === 'await';

/**
 * Seconds that a wait lasts before its reaction: those of the settings, and those planned for every person at work
 * through whose stage the robot may wait. `before` are the steps of its program before the wait, `given` is the stage
 * in which the signal is given.
 */
export function waitLimit(
  limit: number,
  stages: readonly { readonly number: number; readonly seconds: number }[],
  before: readonly RunStep[],
  given: number,
): number {
  const last = before.findLast((step) => !ordersOnly(step))?.stage ?? 0;
  return stages
    .filter(({ number }) => last < number && number <= given)
    .reduce((sum, { seconds }) => sum + seconds, limit);
}

/** The stages in which a person is at work, and for how long that is planned. */
export const manualStages = (
  stages: readonly Pick<Stage, 'number' | 'manual'>[],
): readonly { readonly number: number; readonly seconds: number }[] =>
  stages.flatMap(({ number, manual }) => (manual ? [{ number, seconds: manual.seconds }] : []));

/** What a robot does while it waits after these steps of its program, and the part that it has meanwhile. */
export function waitingAfter(
  duty: GeometricPlan['programs'][number]['duty'],
  steps: readonly RunStep[],
): { readonly waiting: Waiting; readonly part?: string } {
  if (duty === 'weld') {
    const zone = steps.findLast(
      (step) => (step.do === 'enter' || step.do === 'leave') && step.zone === 'work',
    );
    return { waiting: zone?.do === 'enter' ? 'torch-near' : 'torch-away' };
  }
  const last = steps.findLast(
    (step) => step.do === 'grip' || step.do === 'hold' || step.do === 'set-down' || step.do === 'let-go',
  );
  if (last?.do === 'hold') return { waiting: 'holding', part: last.part };
  if (last?.do === 'grip') return { waiting: 'carrying', part: last.part };
  return { waiting: 'empty' };
}
