import type { Finding } from '../model/finding.js';
import { proofReserve } from './proof-reserve.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { placingGrip, stageViews } from './stage-views.js';

const ID = 'proof-pull';

function judge(context: RuleContext): Finding[] {
  const { scene, settings, programs } = context;
  const least = settings.loads['proof-pull'];
  return stageViews(context).flatMap((view) => {
    const { stage, where, part } = view;
    const force = stage.proofPull;
    if (force === null) {
      if (settings.tacks['lost-tack'] === 'survive' || stage.held === null) return [];
      return [
        breach(ID, `${where}.proofPull`, `${stage.part} is let go unproved; the settings ask for a pull`),
      ];
    }
    if (stage.held === null)
      return [breach(ID, `${where}.proofPull`, `${stage.part} is not held, so nothing can pull at it`)];
    const found: Finding[] = [];
    if (force < least) {
      const message = `${stage.part} is pulled at with ${shown(force)} N; the settings ask for ${shown(least)}`;
      found.push(breach(ID, `${where}.proofPull`, message, { value: force, limit: least }));
    }
    const placing = placingGrip(context, view);
    if (placing === undefined) return found;
    const held = { part, grip: placing.grip, gripper: placing.gripper };
    const reserve = proofReserve(programs, scene, held, force, settings);
    const required = settings.reserves.accident;
    if (reserve >= required) return found;
    const message =
      `${placing.gripper.id} would come off ${stage.part} at ${shown(reserve)} times the proof pull; ` +
      `${shown(required)} is required`;
    return [...found, breach(ID, `${where}.proofPull`, message, { value: reserve, limit: required })];
  });
}

/** A part that is pulled at before it is let go is pulled hard enough, by a gripper that does not come off. */
export const proofPull: Rule = {
  id: ID,
  forbids:
    'a proof pull that is missing where the settings ask for it, too weak, or more than the gripper holds',
  why: 'a tack that failed is found while the part is still held, or when it falls',
  judge,
};
