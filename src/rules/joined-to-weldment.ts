import type { Finding } from '../model/finding.js';
import { footingOf, hasFooting } from '../model/standing.js';
import { looseParts } from './loose-parts.js';
import { otherHoldFindings } from './other-holds.js';
import { breach, type Rule, type RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { everyTack } from './stage-tacks.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'joined-to-weldment';

const isFooted = ({ scene }: RuleContext, { part, before }: StageView): boolean =>
  hasFooting(footingOf(scene, part, (other) => before.includes(other)));

/** Later parts only: whether the part has a joint with one in place, or something to stand on by itself. */
function jointFindings(context: RuleContext, view: StageView): Finding[] {
  const { plan, scene } = context;
  const { stage, before, where } = view;
  const inPlace = new Set(before.map((i) => scene.parts[i]!.part.id));
  const joined = plan.joints.some(
    ({ between: [a, b] }) => (a === stage.part && inPlace.has(b)) || (b === stage.part && inPlace.has(a)),
  );
  if (joined || (stage.stands === 'free-standing' && isFooted(context, view))) return [];
  const message = `${stage.part} has no joint with any of the ${before.length} parts in place, and does not stand by itself`;
  return [breach(ID, `${where}.part`, message, { value: 0, limit: 1 })];
}

/** How a part stands once a person has set it, or a robot has let it go; nothing holds a part that a person sets. */
function holdFindings({ stage, where }: StageView): Finding[] {
  const securing = stage.tacks.filter(({ phase }) => phase === 'securing').length;
  const heldOn = stage.stands === 'held';
  const byHand = stage.manual && (stage.manual.tacks.length > 0 ? 'tacked' : 'free-standing');
  const standing = byHand ?? (stage.held === null ? 'free-standing' : heldOn ? 'held' : 'tacked');
  const findings: Finding[] = [];
  if (stage.held !== null && stage.held !== stage.robot)
    findings.push(breach(ID, `${where}.held`, `${stage.held} holds the part; only ${stage.robot} can`));
  const held = stage.held === null ? stage.alsoHeld?.part : stage.part;
  if (held !== undefined && securing === 0 && !heldOn)
    findings.push(
      breach(ID, `${where}.tacks`, `${held} is held but has no securing tack`, { value: 0, limit: 1 }),
    );
  if (held === undefined && securing > 0)
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

const footingText = (table: boolean, parts: readonly string[]): string =>
  [...parts, ...(table ? ['the work table'] : [])].join(' and ') || 'nothing';

/** What a free-standing part is said to stand on is what bears it; no other part says so. */
function footingFindings({ scene }: RuleContext, view: StageView): Finding[] {
  const { stage, part, before, where } = view;
  const stated = stage.standsOn;
  if (stage.stands !== 'free-standing')
    return stated === undefined
      ? []
      : [breach(ID, `${where}.standsOn`, `${stage.part} is ${stage.stands}, not free-standing`)];
  const { table, parts } = footingOf(scene, part, (other) => before.includes(other));
  const names = before.filter((i) => parts.includes(i)).map((i) => scene.parts[i]!.part.id);
  if (stated?.table === table && stated.parts.join('\n') === names.join('\n')) return [];
  const said = stated === undefined ? 'nothing' : footingText(stated.table, stated.parts);
  const message = `${stage.part} is said to stand on ${said}; it stands on ${footingText(table, names)}`;
  return [breach(ID, `${where}.standsOn`, message)];
}

/** Once all tacks are laid, they make one piece of all parts. Of parts that never join, each-part-once speaks. */
function pieceFindings(context: RuleContext, views: readonly StageView[]): Finding[] {
  if (views.length < context.scene.parts.length) return [];
  const seams = new SeamPlaces(context);
  const tacks = views.flatMap(({ stage }) => everyTack(stage).flatMap((tack) => seams.of(tack) ?? []));
  const loose = looseParts(
    views.map(({ part }) => part),
    tacks,
  );
  return views
    .filter(({ part }) => loose.includes(part))
    .map(({ stage, where }) =>
      breach(ID, `${where}.part`, `no chain of tacks ever joins ${stage.part} to the first part`),
    );
}

function judge(context: RuleContext): Finding[] {
  const views = stageViews(context);
  const later = views.filter(({ index, before }) => index > 0 && before.length > 0);
  const stages = later.flatMap((view) => [...jointFindings(context, view), ...holdFindings(view)]);
  const others = otherHoldFindings(ID, context, views);
  const footings = views.flatMap((view) => footingFindings(context, view));
  return [...stages, ...others, ...footings, ...(stages.length > 0 ? [] : pieceFindings(context, views))];
}

/**
 * Every later part has a joint with what stands, or a footing by itself until a later one joins it to the rest; it is
 * held until secured or stands by itself; in the end the tacks make one piece. Whether it stands, reserves-hold says.
 */
export const joinedToWeldment: Rule = {
  id: ID,
  forbids:
    'a later part without joint or footing, or let go without tacks or standing of its own; parts that no tacks join',
  why: 'a part that nothing bears or holds falls, and one that nothing joins is not part of the weldment',
  judge,
};
