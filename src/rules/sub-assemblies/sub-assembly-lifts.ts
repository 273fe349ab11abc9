import type { Finding } from '../../model/finding.js';
import type { PlanLift } from '../../model/plan-sub-assembly.js';
import { breach, shown, type RuleContext, type RuleWords } from '../rule.js';
import { leastOf, liftsIn } from './lift.js';
import type { GroupContext } from './split-context.js';

/** Judged of each sub-assembly of a plan, beside the rules for the plan of it and for that of the weldment. */
export const SUB_ASSEMBLY_LIFTS: RuleWords = {
  id: 'sub-assembly-lifts',
  forbids:
    'a sub-assembly whose tacks, or the grip on one of its parts, would give way under its weight or in an emergency stop while it is handled as one part, and other numbers stated for it',
  why: 'the pads sit on one of its parts, and all the others hang on its tacks',
};

const ID = SUB_ASSEMBLY_LIFTS.id;

/** Reserves are rounded to a millionth; a stated one may differ by this share and by this amount. */
const ROUNDING = 2e-6;
const TOLERANCE = 1e-3;

const placeText = ({ at }: PlanLift): string => (at === 'home' ? 'at home' : at);

/** Whether a sub-assembly is carried with the reserves that are required, and the plan states truly how surely. */
export function liftFindings(main: RuleContext, { stated, where }: GroupContext): Finding[] {
  const { name, lift } = stated;
  const lifts = liftsIn(main, name);
  const found = leastOf(lifts);
  if (found === undefined) return [];
  const { case: load, reserve, required, weakest, grip } = found;
  const place = `on grip ${grip}, ${placeText(found)}`;
  const what = `${name} ${place}: ${load} has a reserve of ${shown(reserve)}`;
  if (reserve < required - ROUNDING) {
    const first = weakest === '' ? '' : `; ${weakest} gives way first`;
    const message = `${what}, and ${shown(required)} is required${first}`;
    return [breach(ID, `${where}.lift`, message, { value: reserve, limit: required })];
  }
  const same = ({ reserve: own, required: needed }: PlanLift): boolean =>
    Math.abs(lift.reserve - own) <= TOLERANCE * (1 + own) && Math.abs(lift.required - needed) <= TOLERANCE;
  const isThere = lifts.some(
    (one) => one.grip === lift.grip && one.at === lift.at && one.case === lift.case && same(one),
  );
  if (same(found) && isThere) return [];
  const message = `${what}; the plan states ${shown(lift.reserve)} for ${lift.case} on grip ${lift.grip}, ${placeText(lift)}`;
  return [breach(ID, `${where}.lift`, message, { value: lift.reserve, limit: reserve })];
}
