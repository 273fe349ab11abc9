import type { Finding } from '../model/finding.js';
import { objectiveOf, type TermValues } from '../model/objective.js';
import type { AbstractPlan } from '../model/plan.js';
import { withoutShapes } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { eachPartOnce, numberFindings, partFindings } from './each-part-once.js';
import { brokenWeight, objectiveFindings, objectiveTrue, tenths } from './objective-true.js';
import { orderRelations, relationFindings } from './order-relations.js';
import { proofFindings, proofTrue } from './proof-true.js';
import { breach, shown, type RuleWords } from './rule.js';
import { abstractWishStages, wishesTrue, wishFindings } from './wishes-true.js';

/** A rule about plans of weldments without shapes. */
export interface AbstractRule extends RuleWords {
  judge(weldment: AbstractWeldment, plan: AbstractPlan): Finding[];
}

/** What a rule says of itself, where it means the same for a plan with shapes. */
const aboutRule = ({ id, forbids, why }: RuleWords): RuleWords => ({ id, forbids, why });

type AbstractStage = AbstractPlan['stages'][number];

/** Seconds in a plan are rounded. */
const SECONDS_ROUNDING = 2e-3;

/** Parts in place before each stage. */
const standingBefore = (plan: AbstractPlan, i: number): ReadonlySet<string> =>
  new Set(plan.stages.slice(0, i).map(({ part }) => part));

/** Where contacts are given, every later part touches one that stands. */
function contactFindings(plan: AbstractPlan, { contacts, parts }: AbstractWeldment): Finding[] {
  if (contacts === undefined) return [];
  return plan.stages.flatMap(({ part }, i) => {
    const standing = standingBefore(plan, i);
    if (standing.has(part) || !parts.some(({ id }) => id === part)) return [];
    const touches = contacts.some(
      ([a, b]) => (a === part && standing.has(b)) || (b === part && standing.has(a)),
    );
    if (i === 0 || touches) return [];
    const message = `${part} touches none of the ${standing.size} parts in place`;
    return [breach('joined-to-weldment', `stages[${i}].part`, message, { value: 0, limit: 1 })];
  });
}

/** Tacks that join the part of a stage to what stands. */
function tacksAt(plan: AbstractPlan, { joints }: AbstractWeldment, i: number): number {
  const { part } = plan.stages[i]!;
  const standing = standingBefore(plan, i);
  return joints
    .filter(({ between: [a, b] }) => (a === part && standing.has(b)) || (b === part && standing.has(a)))
    .reduce((sum, { tacks }) => sum + tacks, 0);
}

/** The gripper on the arm before each stage; null while none is needed yet. */
function grippersBefore(plan: AbstractPlan): (string | null)[] {
  let mounted: string | null = null;
  return plan.stages.map(({ gripper }) => {
    const before = mounted;
    mounted = gripper ?? mounted;
    return before;
  });
}

const changesAt = (stage: AbstractStage, before: string | null): number =>
  stage.gripper !== null && before !== null && before !== stage.gripper ? 1 : 0;

/** Stages of parts that the weldment has, with their number from 0. */
const knownStages = (plan: AbstractPlan, { parts }: AbstractWeldment) =>
  plan.stages.flatMap((stage, i) => {
    const part = parts.find(({ id }) => id === stage.part);
    return part === undefined ? [] : [{ stage, part, i }];
  });

/** Each stage has the tacks of the joints that it closes. */
const tackFindings = (weldment: AbstractWeldment, plan: AbstractPlan): Finding[] =>
  knownStages(plan, weldment).flatMap(({ stage, i }) => {
    const tacks = tacksAt(plan, weldment, i);
    if (stage.tacks === tacks) return [];
    const message = `${stage.part} has ${stage.tacks} tacks; its joints ask for ${tacks}`;
    return [breach('tack-rules', `stages[${i}].tacks`, message, { value: stage.tacks, limit: tacks })];
  });

/** The ways of its part that a stage may have taken, by gripper and regrips; a part without ways has a bare one. */
function waysOf({ stage, part }: ReturnType<typeof knownStages>[number]): readonly { seconds: number }[] {
  if (part.ways.length === 0) return stage.gripper === null && stage.regrips === 0 ? [{ seconds: 0 }] : [];
  return part.ways.filter(
    ({ gripper, regrips }) => (stage.gripper ?? '') === gripper && stage.regrips === regrips,
  );
}

const wayFindings = (weldment: AbstractWeldment, plan: AbstractPlan): Finding[] =>
  knownStages(plan, weldment).flatMap((known) => {
    if (waysOf(known).length > 0) return [];
    const { part, gripper, regrips } = known.stage;
    const message = `${part} has no way with ${gripper ?? 'no gripper'} and ${regrips} regrips`;
    return [breach('ways-exist', `stages[${known.i}]`, message)];
  });

/** The seconds of a stage are those of its way, its tacks and its tool change. */
function secondsFindings(weldment: AbstractWeldment, plan: AbstractPlan): Finding[] {
  const before = grippersBefore(plan);
  const { tack, toolChange } = weldment.times;
  return knownStages(plan, weldment).flatMap((known) => {
    const { stage, i } = known;
    const rest = stage.tacks * tack + changesAt(stage, before[i]!) * toolChange;
    const possible = waysOf(known).map(({ seconds }) => seconds + rest);
    if (possible.length === 0 || possible.some((s) => Math.abs(s - stage.seconds) <= SECONDS_ROUNDING))
      return [];
    const least = Math.min(...possible);
    const message = `stage ${stage.number} takes ${shown(least)} s, not ${shown(stage.seconds)}`;
    return [breach('timeline-true', `stages[${i}].seconds`, message, { value: stage.seconds, limit: least })];
  });
}

/** What a plan without shapes costs by all that it says itself, term by term, time in tenths of a second. */
export function abstractCounts(plan: AbstractPlan): TermValues {
  const before = grippersBefore(plan);
  return {
    regrips: plan.stages.reduce((sum, { regrips }) => sum + regrips, 0),
    'tool-changes': plan.stages.reduce((sum, stage, i) => sum + changesAt(stage, before[i]!), 0),
    distortion: 0,
    time: tenths(plan.stages.reduce((sum, { seconds }) => sum + seconds, 0)),
    wishes: brokenWeight(plan),
  };
}

function valueFindings(weldment: AbstractWeldment, plan: AbstractPlan): Finding[] {
  const wanted = withoutShapes(objectiveOf(weldment, plan.settings));
  return objectiveFindings('objective-true', plan.objective, wanted, abstractCounts(plan));
}

/** What makes the plan of a weldment without shapes legal. The first gripper is mounted beforehand and costs no change. */
export const ABSTRACT_RULES: readonly AbstractRule[] = [
  {
    ...aboutRule(eachPartOnce),
    judge: (weldment, { stages }) => [
      ...partFindings(
        eachPartOnce.id,
        stages,
        weldment.parts.map(({ id }) => id),
      ),
      ...numberFindings(eachPartOnce.id, stages),
    ],
  },
  {
    ...aboutRule(orderRelations),
    judge: (weldment, { stages }) => relationFindings(orderRelations.id, stages, weldment),
  },
  {
    ...aboutRule(wishesTrue),
    judge: (weldment, plan) => wishFindings(wishesTrue.id, weldment, plan, abstractWishStages(plan)),
  },
  {
    id: 'joined-to-weldment',
    forbids: 'where contacts are given, a later part that touches nothing in place',
    why: 'one weldment grows; what touches nothing could be neither held against it nor tacked',
    judge: (weldment, plan) => contactFindings(plan, weldment),
  },
  {
    id: 'tack-rules',
    forbids: 'a stage with more or fewer tacks than its joints to the parts in place ask for',
    why: 'the joint list says what is tacked, and tacks take time',
    judge: tackFindings,
  },
  {
    id: 'ways-exist',
    forbids: 'a gripper with a number of regrips that the part has no way for',
    why: 'only the ways in the file are known to work',
    judge: wayFindings,
  },
  {
    id: 'timeline-true',
    forbids: 'seconds of a stage that do not follow from its way, its tacks and its tool change',
    why: 'the time of the plan is their sum',
    judge: secondsFindings,
  },
  {
    ...aboutRule(objectiveTrue),
    judge: valueFindings,
  },
  {
    ...aboutRule(proofTrue),
    judge: (_, plan) => proofFindings(proofTrue.id, plan),
  },
];

/** Judges the plan of a weldment without shapes, rule by rule. Never throws. */
export const checkAbstract = (weldment: AbstractWeldment, plan: AbstractPlan): Finding[] =>
  ABSTRACT_RULES.flatMap(({ judge }) => judge(weldment, plan));
