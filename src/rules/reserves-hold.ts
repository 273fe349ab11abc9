import type { Finding } from '../model/finding.js';
import { judgedReserves } from './judged-reserves.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';

const ID = 'reserves-hold';

/** Reserves are stated with four decimals. */
const ROUNDING = 5e-5;

function judge(context: RuleContext): Finding[] {
  return judgedReserves(context).flatMap(({ stage, state, name, reserve, residual, required }) => {
    if (reserve >= required - ROUNDING) return [];
    const where = `${stage.where}.reserves`;
    const doubt = residual > 0 ? ` (forces that miss balance by ${shown(residual)} do not count)` : '';
    const message =
      `${state}, ${stage.stage.part} joining: ${name} has a reserve of ${shown(reserve)}; ` +
      `${shown(required)} is required${doubt}`;
    return [breach(ID, where, message, { value: reserve, limit: required })];
  });
}

/** In every state of every stage the whole assembly carries gravity and each disturbance with the required reserve. */
export const reservesHold: Rule = {
  id: ID,
  forbids: 'a state, held, let go or complete, in which some load case has less than the required reserve',
  why: 'what is not carried falls, and a hot tack that tears takes its neighbours along',
  judge,
};
