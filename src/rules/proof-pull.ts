import type { Finding } from '../model/finding.js';
import { proofReserve } from './proof-reserve.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { holdersOf, stageViews } from './stage-views.js';

const ID = 'proof-pull';

function judge(context: RuleContext): Finding[] {
  const { scene, settings, programs } = context;
  const least = settings.loads['proof-pull'];
  return stageViews(context).flatMap((view) => {
    const { stage } = view;
    const force = stage.proofPull;
    const where = `${view.where}.proofPull`;
    // The newcomer where it is held, else the earlier part that is.
    const name = stage.held === null ? stage.alsoHeld?.part : stage.part;
    if (force === null) {
      if (settings.tacks['lost-tack'] === 'survive' || name === undefined) return [];
      return [breach(ID, where, `${name} is let go unproved; the settings ask for a pull`)];
    }
    if (name === undefined) return [breach(ID, where, 'no part is held, so that nothing can be pulled at')];
    const found: Finding[] = [];
    if (force < least) {
      const message = `${name} is pulled at with ${shown(force)} N; the settings ask for ${shown(least)}`;
      found.push(breach(ID, where, message, { value: force, limit: least }));
    }
    const held = holdersOf(context, view)[0];
    if (held === undefined) return found;
    const required = settings.reserves.accident;
    const reserve = proofReserve(programs, scene, held, force, settings, required);
    if (reserve === undefined || reserve >= required) return found;
    const message =
      `${held.gripper.id} would come off ${name} at ${shown(reserve)} times the proof pull; ` +
      `${shown(required)} is required`;
    return [...found, breach(ID, where, message, { value: reserve, limit: required })];
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
