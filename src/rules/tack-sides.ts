import type { Finding } from '../model/finding.js';
import type { Stage } from '../model/plan.js';
import { sidesMissed, type Sides } from '../model/seam-relations.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces, seamRun } from './seam-places.js';
import { everyTack, type StatedTack } from './stage-tacks.js';

const ID = 'tack-sides';

/** The tacks of a stage that do not lie to those on the other side as is wished, joint by joint. */
function missedIn(stage: Stage, seams: SeamPlaces, sides: Sides): readonly StatedTack[] {
  const tacks = everyTack(stage);
  const joints = [...new Set(tacks.map(({ joint }) => joint))];
  return joints.flatMap((joint) => {
    const own = seams.all().filter((seam) => seam.joint.id === joint);
    const on = own.map((seam) => tacks.filter((tack) => seams.of(tack) === seam));
    return sidesMissed(sides, own.map(seamRun), on).flatMap((numbers, i) => numbers.map((k) => on[i]![k]!));
  });
}

function judge(context: RuleContext): Finding[] {
  const seams = new SeamPlaces(context);
  const { sides } = context.settings.tacks;
  return context.plan.stages.flatMap((stage, i) => {
    const where = `stages[${i}].sidesMissed`;
    const missed = missedIn(stage, seams, sides).map(({ id }) => id);
    const told = new Set(stage.sidesMissed);
    return [
      ...missed
        .filter((id) => !told.has(id))
        .map((id) =>
          breach(ID, where, `tack ${id} is not ${sides} with the other side, and nothing says so`),
        ),
      ...stage.sidesMissed
        .filter((id) => !missed.includes(id))
        .map((id) =>
          breach(ID, where, `tack ${id} is said not to be ${sides}, but it is, or has no other side`),
        ),
    ];
  });
}

/** Pairs of tacks and their stagger are a wish, so that missing one is no breach; hiding it is. */
export const tackSides: Rule = {
  id: ID,
  forbids: 'a tack of a double-sided joint that is silently not paired or staggered as the settings wish',
  why: 'tacks on the two sides pull against each other; where they do not, somebody has to know',
  judge,
};
