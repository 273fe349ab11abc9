import type { Step } from '../../../../model/plan.js';
import { amount } from '../../../numbers.js';
import { plain } from '../../../plain.js';
import { stepWords } from '../../../step-words.js';
import type { GeometricContext } from '../../page-context.js';
import type { PageDetail } from '../../page-data.js';
import { row } from './rows.js';

/** Whether a step is worth a look of its own: it takes time, or it is about a handshake. */
export const isTold = (step: Step): boolean =>
  step.end > step.start || step.do === 'signal' || step.do === 'await';

function speedText(step: Step): string | undefined {
  if (step.do !== 'move') return undefined;
  return step.path === 'straight' ? `at most ${amount(step.speed)} mm/s` : `${amount(100 * step.speed)} %`;
}

export function stepDetail({ plan }: GeometricContext, robot: string, step: Step): PageDetail {
  const { what, watch } = stepWords(step, plan.handshakes);
  const lasts = step.end - step.start;
  return {
    title: `${plain(robot)}, step ${step.n}: ${what}`,
    rows: [
      ...row('time', `${amount(step.start, 1)} s, lasts ${amount(lasts, 1)} s`),
      ...row('stage', step.stage === 0 ? undefined : String(step.stage)),
      ...row('speed', speedText(step)),
      ...row('watch', watch),
    ],
  };
}
