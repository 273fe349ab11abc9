import type { Finding } from '../model/finding.js';
import type { AbstractPlan } from '../model/plan.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { numberFindings, partFindings } from './each-part-once.js';
import { objectiveFindings, tenths } from './objective-true.js';
import { relationFindings } from './order-relations.js';
import { proofFindings } from './proof-true.js';
import { breach, shown } from './rule.js';

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

/** The way that a stage takes is one of its part's, and its numbers follow from the file. */
function wayFindings(plan: AbstractPlan, weldment: AbstractWeldment): Finding[] {
  const before = grippersBefore(plan);
  return plan.stages.flatMap((stage, i) => {
    const part = weldment.parts.find(({ id }) => id === stage.part);
    if (part === undefined) return [];
    const where = `stages[${i}]`;
    const findings: Finding[] = [];
    const tacks = tacksAt(plan, weldment, i);
    if (stage.tacks !== tacks)
      findings.push(
        breach(
          'tack-rules',
          `${where}.tacks`,
          `${stage.part} has ${stage.tacks} tacks; its joints ask for ${tacks}`,
          {
            value: stage.tacks,
            limit: tacks,
          },
        ),
      );
    const ways = part.ways.filter(
      ({ gripper, regrips }) => (stage.gripper ?? '') === gripper && stage.regrips === regrips,
    );
    const bare = part.ways.length === 0 && stage.gripper === null && stage.regrips === 0;
    if (ways.length === 0 && !bare) {
      const message = `${stage.part} has no way with ${stage.gripper ?? 'no gripper'} and ${stage.regrips} regrips`;
      return [...findings, breach('ways-exist', where, message)];
    }
    const { tack, toolChange } = weldment.times;
    const rest = stage.tacks * tack + changesAt(stage, before[i]!) * toolChange;
    const possible = bare ? [rest] : ways.map(({ seconds }) => seconds + rest);
    if (!possible.some((seconds) => Math.abs(seconds - stage.seconds) <= SECONDS_ROUNDING))
      findings.push(
        breach(
          'timeline-true',
          `${where}.seconds`,
          `stage ${stage.number} takes ${shown(Math.min(...possible))} s, not ${shown(stage.seconds)}`,
          { value: stage.seconds, limit: Math.min(...possible) },
        ),
      );
    return findings;
  });
}

function valueFindings(plan: AbstractPlan): Finding[] {
  const before = grippersBefore(plan);
  return objectiveFindings('objective-true', plan.objective, plan.settings.objective, {
    regrips: plan.stages.reduce((sum, { regrips }) => sum + regrips, 0),
    'tool-changes': plan.stages.reduce((sum, stage, i) => sum + changesAt(stage, before[i]!), 0),
    time: tenths(plan.stages.reduce((sum, { seconds }) => sum + seconds, 0)),
  });
}

/**
 * Judges the plan of a weldment without shapes: parts, relations, contacts, ways, tacks, seconds, objective and proof.
 * The first gripper is mounted beforehand and costs no change. Never throws.
 */
export function checkAbstract(weldment: AbstractWeldment, plan: AbstractPlan): Finding[] {
  const parts = weldment.parts.map(({ id }) => id);
  return [
    ...partFindings('each-part-once', plan.stages, parts),
    ...numberFindings('each-part-once', plan.stages),
    ...relationFindings('order-relations', plan.stages, weldment),
    ...contactFindings(plan, weldment),
    ...wayFindings(plan, weldment),
    ...valueFindings(plan),
    ...proofFindings('proof-true', plan),
  ];
}
