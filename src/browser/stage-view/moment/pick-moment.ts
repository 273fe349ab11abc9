import type { PageData, Pick } from '../../../report/page/page-data.js';
import { stageMoment } from './stages.js';

/** The moment that shows a stage or a step that is picked; undefined for what belongs to no moment. */
export function momentOfPick({ stages, robots }: PageData, pick: Pick): number | undefined {
  const [kind, key = ''] = pick.split(':');
  const [first, second] = key.split('.').map(Number);
  if (kind === 'step') return robots[first!]?.steps.find(({ n }) => n === second)?.start;
  const stage = kind === 'stage' ? stages.find(({ number }) => number === first) : undefined;
  return stage && stageMoment(stage);
}
