import type { Waiting } from '../model/plan-handshake.js';
import type { GeometricPlan } from '../model/plan.js';
import type { RunStep } from './run-events.js';

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
