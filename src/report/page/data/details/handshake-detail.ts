import type { GeometricPlan, Handshake, Step } from '../../../../model/plan.js';
import { amount, listed } from '../../../numbers.js';
import { plain } from '../../../plain.js';
import type { PageDetail } from '../../page-data.js';
import { row, timeText } from './rows.js';

function stepOf(
  { programs }: Pick<GeometricPlan, 'programs'>,
  { robot, step }: Handshake['from'],
): Step | undefined {
  return programs.find((program) => program.robot === robot)?.steps.find(({ n }) => n === step);
}

/** Who does it, in which step and when. */
function doneText(plan: Pick<GeometricPlan, 'programs'>, end: Handshake['from']): string {
  const step = stepOf(plan, end);
  return `${plain(end.robot)} in step ${end.step}${step ? `, ${timeText(step)}` : ''}`;
}

export function handshakeDetail(plan: Pick<GeometricPlan, 'programs'>, handshake: Handshake): PageDetail {
  const { id, name, kind, line, from, to, meaning, guards, carries, timeLimit, reaction } = handshake;
  return {
    title: `Signal ${plain(id)} ${plain(name)}`,
    rows: [
      ...row('says', plain(meaning)),
      ...row('sent by', doneText(plan, from)),
      ...row('awaited by', doneText(plan, to)),
      ...row('without it', plain(guards)),
      ...row('lines', line === undefined ? kind : `${kind}, line ${line}`),
      ...row('stands for', carries && listed(carries.map(plain))),
      ...row('time limit', `${amount(timeLimit, 1)} s, then ${plain(reaction)}`),
    ],
  };
}
