import type { Finding } from '../model/finding.js';
import { judgedDistortion } from './distortion-replay.js';
import { worstOpening } from './distortion-run.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { stageViews } from './stage-views.js';

const ID = 'gaps-stay-closed';

function judge(context: RuleContext): Finding[] {
  const account = judgedDistortion(context);
  if (account === undefined) return [];
  return stageViews(context).flatMap(({ where }, i) => {
    const worst = worstOpening(context.scene, account.events[i]!);
    if (worst === undefined) return [];
    const { tack, opening, limit } = worst;
    const message = `before tack ${tack.id} is laid its seam stands open by ${shown(opening)} mm; ${shown(limit)} can still be tacked`;
    return [breach(ID, `${where}.tacks`, message, { value: opening, limit })];
  });
}

/** No seam is predicted to stand open by more than can still be tacked when a tack is laid on it. */
export const gapsStayClosed: Rule = {
  id: ID,
  forbids: 'a tack on a seam that the tacks before it are predicted to open by more than the fit-up gap',
  why: 'a wide gap burns through or is not bridged, so the next tack could not be laid as planned',
  judge,
};
