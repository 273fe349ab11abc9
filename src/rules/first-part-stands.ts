import type { Finding } from '../model/finding.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { everyTack, tackListOf } from './stage-tacks.js';
import { stageViews } from './stage-views.js';

const ID = 'first-part-stands';

function judge(context: RuleContext): Finding[] {
  const { cell, plan, scene } = context;
  const stage = plan.stages[0];
  if (stage === undefined) return [];
  const findings: Finding[] = [];
  const say = (field: string, message: string, numbers = {}): number =>
    findings.push(breach(ID, `stages[0].${field}`, message, numbers));
  if (stage.held !== null) say('held', `the first part is held by ${stage.held}; it must stand by itself`);
  if (stage.alsoHeld) say('alsoHeld', `${stage.alsoHeld.part} is held although nothing was there before`);
  const clamped = cell.table.clamp.force > 0;
  const standing = clamped ? 'clamped' : 'free-standing';
  if (stage.stands !== standing)
    say('stands', `the first part is said to be ${stage.stands}; at this table it is ${standing}`);
  const tacks = everyTack(stage).length;
  if (tacks > 0)
    say(tackListOf(stage, '').slice(1), `the first part has ${tacks} tacks with nothing to be tacked to`, {
      value: tacks,
      limit: 0,
    });
  const first = stageViews(context)[0];
  if (first?.index === 0 && scene.tableBearing[first.part]!.length === 0)
    say('part', `${stage.part} has no face that lies on the table`, { value: 0, limit: 1 });
  return findings;
}

/** The first part lies on the table, clamped if the cell has a clamp, with nobody holding it and nothing tacked. */
export const firstPartStands: Rule = {
  id: ID,
  forbids: 'a first part that is held, tacked, off the table, or said to stand otherwise than it does',
  why: 'everything else is located and carried by the first part',
  judge,
};
