import { subtract } from '../geometry/vector.js';
import { positionAllowed } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { weldingPosition } from '../model/welding-position.js';
import { direction, poseOf } from './plan-frames.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { stageViews } from './stage-views.js';

const ID = 'welding-position';

function judge(context: RuleContext): Finding[] {
  const seams = new SeamPlaces(context);
  return stageViews(context).flatMap((view) =>
    view.stage.tacks.flatMap((tack, i) => {
      const seam = seams.of(tack);
      // Along the run of the torch as it is stated, which may be against the seam.
      const run = direction(subtract(poseOf(tack.torch.end).at, poseOf(tack.torch.start).at));
      if (seam === undefined || run === undefined) return [];
      const where = `${view.where}.tacks[${i}].position`;
      const found = weldingPosition(run, seam.open);
      if (found !== tack.position)
        return [breach(ID, where, `tack ${tack.id} is laid in position ${found}, not in ${tack.position}`)];
      if (positionAllowed(context.cell, found)) return [];
      return [
        breach(ID, where, `tack ${tack.id} is laid in position ${found}, which the cell does not allow`),
      ];
    }),
  );
}

/** Each tack states the welding position that its torch poses and gravity give, and the cell allows it. */
export const weldingPositionTrue: Rule = {
  id: ID,
  forbids: 'tacks in a welding position that the process does not allow, or that is stated wrongly',
  why: 'a pool runs out of a seam that the process is not set up for, and a program made with other parameters burns it',
  judge,
};
