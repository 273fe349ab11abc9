import { rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { prepare } from '../mechanics/equilibrium.js';
import type { System } from '../mechanics/system.js';
import type { Element, Verdict } from '../mechanics/verdict.js';
import type { PlanReserve } from '../model/plan.js';
import { assemblySystem, type Assembly, type AssemblyState, type LaidTack } from '../rules/assembly.js';
import { asDisturbances, requiredReserve, type LoadFamily, type TouchedTack } from '../rules/load-cases.js';
import { stageStates, type StageMoment, type StageState } from '../rules/stage-states.js';
import { leastOfFamilies, worstLoads, worstOfEach } from '../rules/worst-loads.js';
import { fallOf, type Fall } from './first-short.js';
import { touchOf } from './securing.js';
import type { ManualDraft, RobotDraft, StageDraft, StageTack } from './stage-draft.js';
import { heldBy } from './held-grip.js';

/** A stage as statics sees it: what of it does not follow from the stages before. */
type Decided = Omit<StageMoment, 'part' | 'before' | 'laid' | 'turnedAfter'>;

/** While a person holds and tacks the part nothing is claimed of it; then it has all its tacks. */
const setByHand = ({ tacks }: ManualDraft): Decided => ({
  ...{ direction: undefined, placing: undefined, other: undefined, otherKept: false },
  ...{ held: false, heldOn: false, proofPull: undefined, securing: [] },
  completing: tacks.map((tack) => ({ robot: '', tack, touch: touchOf(tack, tack.id) })),
});

function byRobots({ part, way, tacks, held, alsoHeld, stands, proofPull }: RobotDraft): Decided {
  const of = (phase: StageTack['phase']): readonly TouchedTack[] =>
    tacks
      .filter((tack) => tack.phase === phase)
      .map((tack) => ({ robot: tack.motion.robot, tack, touch: touchOf(tack, tack.id) }));
  return {
    ...{ held, heldOn: stands === 'held', proofPull, direction: way.approach.direction },
    placing: heldBy({ part, grip: way.grip }),
    other: alsoHeld && heldBy(alsoHeld),
    otherKept: alsoHeld?.kept === true,
    ...{ securing: of('securing'), completing: of('completing') },
  };
}

/**
 * The states of a stage; `before` are the parts in place, in the order they joined, `laid` the tacks of earlier stages.
 * `turnedAfter`: whether the work table turns before the next one.
 */
export function draftStates(
  { scene, settings }: Facts,
  draft: StageDraft,
  before: readonly number[],
  laid: readonly LaidTack[],
  turnedAfter: boolean,
): readonly StageState[] {
  const own = draft.manual ? setByHand(draft) : byRobots(draft);
  return stageStates(scene, { ...own, part: draft.part, before, laid, turnedAfter }, settings);
}

/** What gives way first, in words. */
function weakestText(
  { system, pieces }: Assembly,
  { held }: AssemblyState,
  element: Element | undefined,
): string {
  if (!element) return '';
  const name = (body: number): string => (body < 0 ? 'the table' : pieces[body]!.id);
  const pair = (list: System['bearings'] | System['links']): string => {
    const { a, b } = list[element.index]!;
    return `${name(a)} and ${name(b)}`;
  };
  switch (element.kind) {
    case 'bearing':
      return `contact of ${pair(system.bearings)}`;
    case 'link':
      return `tack between ${pair(system.links)}`;
    case 'pad':
      return `pad ${element.index + 1} on ${name(system.pads[element.index]!.body)}`;
    case 'hold':
      return held.length > 1
        ? `the arm of ${held[element.index]!.robot.id}`
        : 'the arm of the handling robot';
  }
}

/** Reserves of a stage as a plan states them: the worst of each family in each kind of state, solved from nothing. */
export function judgeStage(
  facts: Facts,
  draft: StageDraft,
  before: readonly number[],
  laid: readonly LaidTack[],
  turnedAfter: boolean,
): readonly PlanReserve[] {
  const judged: Judged[] = [];
  for (const state of draftStates(facts, draft, before, laid, turnedAfter))
    judged.push(...judgeState(facts, state, leastOfFamilies(judged, state.state)));
  return worstOfEach(judged).map(({ stated }) => stated);
}

/** What a plan states of a load, with what it is compared by. */
interface Judged extends Pick<PlanReserve, 'state' | 'reserve'> {
  readonly family: LoadFamily;
  readonly stated: PlanReserve;
}

/**
 * The worst reserve of each family of loads in one state of the whole assembly, solved from nothing; `known` are those of
 * states of its kind, above which none is of interest.
 */
function judgeState(
  facts: Facts,
  { state, note, assembly, loads }: StageState,
  known: ReadonlyMap<LoadFamily, number>,
): readonly Judged[] {
  const { scene, settings, programs } = facts;
  const made = assemblySystem(scene, assembly, settings);
  const judge = prepare(programs, made.system, asDisturbances(loads, made), { cold: true });
  const judged = (family: LoadFamily, { name, reserve, weakest }: Verdict): Judged => {
    const stated = {
      state,
      case: note === '' ? name : `${name}, ${note}`,
      required: requiredReserve(family, settings, state),
      reserve: rounded(reserve, 4),
      weakest: weakestText(made, assembly, weakest),
    };
    return { state, family, reserve: stated.reserve, stated };
  };
  try {
    const rest = worstLoads(
      loads,
      {
        judged: (index) => judge.disturbance(index),
        least: (index, wanted) => judge.leastDisturbance(index, wanted),
      },
      known,
    );
    return [
      judged('gravity', judge.gravity()),
      ...rest.map(({ family, judged: verdict }) => judged(family, verdict)),
    ];
  } finally {
    judge.dispose();
  }
}

/** What a state does not carry as often as it must: stopped at the first; undefined when it carries all. */
export function stateFall(facts: Facts, { state, assembly, loads }: StageState): Fall | undefined {
  const { scene, settings, programs } = facts;
  const made = assemblySystem(scene, assembly, settings);
  const judge = prepare(programs, made.system, asDisturbances(loads, made));
  try {
    return fallOf(judge, loads, settings, requiredReserve('gravity', settings, state));
  } finally {
    judge.dispose();
  }
}
