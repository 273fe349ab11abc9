import { distance } from '../../../../geometry/vector.js';
import type { PlanJoint } from '../../../../model/plan.js';
import { everyTack } from '../../../../rules/stage-tacks.js';
import { sideText } from '../../../direction-text.js';
import { amount, counted, listed } from '../../../numbers.js';
import { plain } from '../../../plain.js';
import type { GeometricContext } from '../../page-context.js';
import type { PageDetail } from '../../page-data.js';
import { row } from './rows.js';

const seamsText = ({ seams }: PlanJoint): string =>
  seams
    .map(
      ({ id, from, to, open }) =>
        `${plain(id)}, ${amount(distance(from, to), 1)} mm, opens to ${sideText(open)}`,
    )
    .join('; ');

/** How many tacks it has, and in which stages they are laid. */
function tacksText({ plan }: GeometricContext, { id }: PlanJoint): string {
  const told = plan.stages.flatMap((stage) => {
    const count = everyTack(stage).filter(({ joint }) => joint === id).length;
    return count === 0 ? [] : [`${counted(count, 'tack')} in stage ${stage.number}`];
  });
  return told.length === 0 ? 'none' : listed(told);
}

export const jointDetail = (context: GeometricContext, joint: PlanJoint): PageDetail => ({
  title: `Joint ${plain(joint.id)}`,
  rows: [
    ...row('between', listed(joint.between.map(plain))),
    ...row('type', `${joint.type}, ${joint.origin}`),
    ...row('leg', `${amount(joint.leg, 1)} mm`),
    ...row('seams', seamsText(joint)),
    ...row('tacks', tacksText(context, joint)),
  ],
});
