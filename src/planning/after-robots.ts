import { withMember, type PartSet } from '../base/part-set.js';
import type { Facts } from '../facts/facts.js';
import type { Remedy } from '../model/plan.js';
import { handsAfter } from './hands.js';
import { broughtAfter } from './index-angles.js';
import type { OrderState } from './order-state.js';
import { heldOn, type RobotDraft } from './stage-draft.js';
import { stageSteps } from './stage-steps.js';
import { longestMilliseconds, totalMilliseconds } from './steps.js';

const withWhere = (parts: PartSet, { part, fitUp }: RobotDraft, remedy: Remedy): PartSet =>
  fitUp.remedies.includes(remedy) ? withMember(parts, part) : parts;

/** After a stage in which robots bring, hold and tack the part, and the milliseconds that it takes. */
export function afterRobots(
  whole: Facts,
  state: OrderState,
  draft: RobotDraft,
): { readonly to: OrderState; readonly milliseconds: number } {
  const { way, part, angle } = draft;
  const facts = whole.at(angle);
  const { handlers } = facts.scene.cell;
  const { robot } = way.grip;
  const own = handlers.indexOf(robot);
  const stage = state.count + 1;
  const steps = stageSteps(facts, draft, state.inPlace, stage, state.hands.grippers[own]);
  const pending = longestMilliseconds(steps.completing);
  const letGo = totalMilliseconds(steps.letGo);
  const fetched = totalMilliseconds(steps.fetch) - state.hands.free[own]!;
  const { brought, since } = broughtAfter(
    facts,
    robot,
    { from: state.angle, to: angle },
    fetched,
    state.pending,
  );
  const after =
    totalMilliseconds(steps.place) +
    longestMilliseconds(steps.securing) +
    letGo +
    totalMilliseconds(steps.takeOther) +
    totalMilliseconds(steps.letGoOther);
  const elapsed = brought + after;
  const free = new Map([...since].map(([turner, idle]) => [turner, idle + after] as const));
  free.set(robot, 0);
  if (state.kept) free.set(state.kept.grip.robot, letGo);
  const kept = draft.stands === 'held' && { ...heldOn(draft), tacks: draft.tacks };
  return {
    to: {
      inPlace: withMember(state.inPlace, part),
      count: stage,
      first: state.first ?? part,
      hands: handsAfter(state.hands, handlers, way, elapsed, free),
      kept: kept || undefined,
      located: withWhere(state.located, draft, 'locate'),
      seated: withWhere(state.seated, draft, 'seat'),
      laid: [...state.laid, ...draft.tacks.map(({ site }) => site)],
      angle,
      pending,
    },
    milliseconds: elapsed + (stage === whole.scene.parts.length ? pending : 0),
  };
}
