import { solidPenetration } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import type { Turntable } from '../model/cell.js';
import type { Finding } from '../model/finding.js';
import { stationSolids } from '../model/placement.js';
import { turningRoom } from '../model/table-turn.js';
import { breach, shown, type Rule, type RuleContext } from './rule.js';
import { turnBefore } from './seen-stage.js';
import { stageViews, type StageView } from './stage-views.js';

const ID = 'table-turns';

/** A stage that states an angle states one of the index angles; where the table stands still, none does. */
function angleFindings({ plan, cell }: RuleContext): Finding[] {
  const { turntable } = cell.table;
  return plan.stages.flatMap(({ turn, part }, i) => {
    const where = `stages[${i}].turn`;
    const told = (message: string, numbers = {}): Finding[] => [breach(ID, where, message, numbers)];
    if (turn === undefined) return [];
    if (turntable === undefined)
      return told(`${part} joins at index angle ${shown(turn)} of a table that does not turn`, {
        value: turn,
      });
    if (turntable.angles.includes(turn)) return [];
    const known = turntable.angles.map(shown).join(', ');
    return told(`${part} joins at index angle ${shown(turn)}; the table has ${known}`, { value: turn });
  });
}

/** Something that turns, or that stands beside. */
interface Turning {
  readonly name: string;
  readonly solid: Solid;
}

/** What the table and the parts on it would meet as they go round, whichever way. */
function roomFindings(
  { scene, cell, settings }: RuleContext,
  view: StageView,
  turntable: Turntable,
): Finding[] {
  const limit = settings.motion['touch-tolerance'];
  const turning: readonly Turning[] = [
    { name: 'the table', solid: scene.table },
    ...view.before.map((part) => ({ name: scene.parts[part]!.part.id, solid: scene.parts[part]!.solid })),
  ];
  const around: readonly Turning[] = [
    ...scene.keepOuts.map((solid, i) => ({ name: `keep-out ${i + 1}`, solid })),
    ...stationSolids(cell).map((solid) => ({ name: 'a station', solid })),
  ];
  return turning.flatMap(({ name, solid }) => {
    const room = turningRoom(turntable, solid);
    return around.flatMap((other) => {
      const value = solidPenetration(room, other.solid);
      if (value <= limit) return [];
      const message =
        `${name}, turned before ${view.stage.part} joins, may meet ${other.name}: ` +
        `its room goes ${shown(value)} mm into it`;
      return [breach(ID, `${view.where}.turn`, message, { value, limit })];
    });
  });
}

/** A part is not held from one index angle to another: the gripper does not turn with the table. */
function heldFindings({ plan }: RuleContext, { index, where }: StageView): Finding[] {
  const last = plan.stages[index - 1]!;
  if (last.stands !== 'held') return [];
  return [breach(ID, `${where}.turn`, `the table turns while ${last.part} is held`)];
}

function judge(context: RuleContext): Finding[] {
  const { plan, cell } = context;
  const { turntable } = cell.table;
  const turned = stageViews(context).filter(({ index }) => turnBefore(plan, cell, index) !== undefined);
  return [
    ...angleFindings(context),
    ...turned.flatMap((view) => [
      ...heldFindings(context, view),
      ...(turntable ? roomFindings(context, view, turntable) : []),
    ]),
  ];
}

/**
 * Stages are at index angles of the table; nothing is held from one to another; table and parts have room to go round.
 * Who is at work meanwhile, handshakes-safe says, and which arm is near, arms-clear; whether the parts stand the turn, reserves-hold.
 */
export const tableTurns: Rule = {
  id: ID,
  forbids:
    'angles that the table does not have, parts held while it turns, keep-outs and stations in the room that it turns in',
  why: 'a table that turns takes all that stands on it along, and drags or strikes what does not turn with it',
  judge,
};
