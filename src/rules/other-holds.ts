import type { Finding } from '../model/finding.js';
import type { AlsoHeldPart, PlanGrip, Stage } from '../model/plan.js';
import { breach, type RuleContext } from './rule.js';
import { handlerNamed, type StageView } from './stage-views.js';

const sameGrip = (a: PlanGrip, b: PlanGrip): boolean =>
  a.gripper === b.gripper &&
  a.face === b.face &&
  a.turn === b.turn &&
  a.position.every((value, i) => value === b.position[i]);

/** A hold that is said to last since the stage before: that stage ends with it, by the same robot and grip. */
function keptFindings(rule: string, at: string, other: AlsoHeldPart, last: Stage | undefined): Finding[] {
  const { part, robot, grip } = other;
  if (last === undefined || last.part !== part || last.stands !== 'held')
    return [
      breach(rule, `${at}.approach`, `${part} is not held since the stage before; its robot must come to it`),
    ];
  if (last.held !== robot)
    return [breach(rule, `${at}.robot`, `${part} is held by ${last.held ?? 'nobody'}, not by ${robot}`)];
  const brought = last.handling.at(-1)?.grip;
  if (brought && sameGrip(grip, brought)) return [];
  return [breach(rule, `${at}.grip`, `${part} is still held by the grip that brought it, not by this one`)];
}

/** An earlier part that is held too: it is in place, and a robot that has its hands free holds it. */
function stageFindings(
  rule: string,
  { cell, scene }: RuleContext,
  { stage, before, where }: StageView,
  last: Stage | undefined,
): Finding[] {
  const { alsoHeld, held, part, robot } = stage;
  if (alsoHeld === undefined) return [];
  const at = `${where}.alsoHeld`;
  const findings: Finding[] = [];
  const inPlace = before.some((i) => scene.parts[i]!.part.id === alsoHeld.part);
  if (!inPlace)
    findings.push(breach(rule, `${at}.part`, `${alsoHeld.part} is not in place when ${part} joins`));
  if (handlerNamed(cell, alsoHeld.robot) === undefined)
    findings.push(
      breach(rule, `${at}.robot`, `${alsoHeld.robot} cannot hold ${alsoHeld.part}: it is no handling robot`),
    );
  else if (held !== null && held === alsoHeld.robot)
    findings.push(breach(rule, `${at}.robot`, `${held} holds ${part} and cannot hold ${alsoHeld.part} too`));
  if (alsoHeld.approach === null) return [...findings, ...keptFindings(rule, at, alsoHeld, last)];
  if (held !== null || alsoHeld.robot !== robot)
    findings.push(
      breach(
        rule,
        at,
        `${alsoHeld.part} is taken hold of in its place by a robot other than the one that let ${part} go`,
      ),
    );
  return findings;
}

/** Holds of earlier parts, and parts that are held on although the next stage does not say so. */
export function otherHoldFindings(
  rule: string,
  context: RuleContext,
  views: readonly StageView[],
): Finding[] {
  const { stages } = context.plan;
  return views.flatMap((view) => {
    const { stage, where, index } = view;
    const next = stages[index + 1]?.alsoHeld;
    const dropped = stage.stands === 'held' && !(next?.approach === null && next.part === stage.part);
    const message = `${stage.part} is held on, but the next stage does not hold it`;
    return [
      ...stageFindings(rule, context, view, stages[index - 1]),
      ...(dropped ? [breach(rule, `${where}.stands`, message)] : []),
      ...(stage.stands === 'held' && stage.tacks.some(({ phase }) => phase === 'completing')
        ? [breach(rule, `${where}.tacks`, `${stage.part} has completing tacks while it is still held`)]
        : []),
    ];
  });
}
