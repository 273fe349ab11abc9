import type { Finding } from '../model/finding.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'joined-to-weldment';

/** Later parts only: whether the part has a joint with one in place. */
function jointFindings({ plan, scene }: RuleContext, view: StageView): Finding[] {
  const { stage, before, where } = view;
  const inPlace = new Set(before.map((i) => scene.parts[i]!.part.id));
  const joined = plan.joints.some(
    ({ between: [a, b] }) => (a === stage.part && inPlace.has(b)) || (b === stage.part && inPlace.has(a)),
  );
  const message = `${stage.part} has no joint with any of the ${before.length} parts in place`;
  return joined ? [] : [breach(ID, `${where}.part`, message, { value: 0, limit: 1 })];
}

function holdFindings({ cell }: RuleContext, { stage, where }: StageView): Finding[] {
  const securing = stage.tacks.filter(({ phase }) => phase === 'securing').length;
  const standing = stage.held === null ? 'free-standing' : 'tacked';
  const findings: Finding[] = [];
  if (stage.held !== null && stage.held !== cell.handler.id)
    findings.push(breach(ID, `${where}.held`, `${stage.held} holds the part; only ${cell.handler.id} can`));
  if (stage.held !== null && securing === 0)
    findings.push(
      breach(ID, `${where}.tacks`, `${stage.part} is held but has no securing tack`, { value: 0, limit: 1 }),
    );
  if (stage.held === null && securing > 0)
    findings.push(
      breach(ID, `${where}.tacks`, `${stage.part} is not held but has ${securing} securing tacks`, {
        value: securing,
        limit: 0,
      }),
    );
  if (stage.stands !== standing)
    findings.push(
      breach(
        ID,
        `${where}.stands`,
        `${stage.part} is said to be ${stage.stands}; it is ${standing} once let go`,
      ),
    );
  return findings;
}

function judge(context: RuleContext): Finding[] {
  return stageViews(context)
    .filter(({ index, before }) => index > 0 && before.length > 0)
    .flatMap((view) => [...jointFindings(context, view), ...holdFindings(context, view)]);
}

/** Every later part has a joint with what stands, and is either held until secured or stands by itself. */
export const joinedToWeldment: Rule = {
  id: ID,
  forbids: 'a later part without a joint to those in place, or let go without tacks or standing of its own',
  why: 'a part that is joined to nothing cannot be tacked where it belongs',
  judge,
};
