import { rounded } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { prepare } from '../mechanics/equilibrium.js';
import type { System } from '../mechanics/system.js';
import type { Element, Verdict } from '../mechanics/verdict.js';
import type { PlanReserve } from '../model/plan.js';
import { assemblySystem, type Assembly, type AssemblyState, type LaidTack } from '../rules/assembly.js';
import { arrivalLoads, seatingLoads } from '../rules/arrival-loads.js';
import { liftOutLoads } from '../rules/lift-out.js';
import {
  asDisturbances,
  letGoLoad,
  proofLoad,
  pushLoads,
  requiredReserve,
  torchLoads,
  wireLoads,
  type LoadFamily,
  type PartLoad,
} from '../rules/load-cases.js';
import { worstLoads } from '../rules/worst-loads.js';
import { firstShort, QUICK_MARGIN, type Fall } from './first-short.js';
import { touchOf } from './securing.js';
import type { StageDraft, StageTack } from './stage-draft.js';

/** A state inside a stage and the loads it must carry. */
export interface StageState {
  readonly state: PlanReserve['state'];
  /** What sets it apart from other states of the same kind; empty where there is one only. */
  readonly note: string;
  readonly assembly: AssemblyState;
  readonly loads: readonly PartLoad[];
}

/** A stage among those before it: parts in place in the order they joined, and the tacks of earlier stages. */
export interface StageMoment {
  readonly draft: StageDraft;
  readonly before: readonly number[];
  readonly laid: readonly LaidTack[];
}

/** The states of a stage that are judged, in the order of events. */
export function stageStates(facts: Facts, moment: StageMoment): readonly StageState[] {
  const { draft, before } = moment;
  const last = before.length + 1 === facts.scene.parts.length;
  return [
    ...arriving(facts, moment),
    ...(draft.held ? whileHeld(facts, moment) : []),
    ...onceLetGo(facts, moment),
    ...(last && before.length > 0 ? liftedOut(facts, moment) : []),
  ];
}

const ofPhase = ({ tacks }: StageDraft, phase: StageTack['phase']): readonly StageTack[] =>
  tacks.filter((tack) => tack.phase === phase);

const touches = ({ settings }: Facts, part: number, tacks: readonly StageTack[]): PartLoad[] =>
  tacks.flatMap((tack) => torchLoads(part, touchOf(tack, tack.id), settings));

const wires = ({ settings }: Facts, part: number, tacks: readonly StageTack[]): PartLoad[] =>
  tacks.flatMap((tack) => wireLoads(part, touchOf(tack, tack.id), settings));

/** The parts in place while the next one comes against them. */
function arriving({ scene, settings }: Facts, { draft, before, laid }: StageMoment): StageState[] {
  const loads = arrivalLoads(scene, draft.part, draft.way.approach.direction, before, settings);
  if (loads.length === 0) return [];
  return [
    { state: 'arriving', note: '', assembly: { inPlace: before, tacks: laid, held: undefined }, loads },
  ];
}

/** Held before the first tack, and after each securing tack but the last. */
function whileHeld(facts: Facts, { draft, before, laid }: StageMoment): StageState[] {
  const { scene, settings } = facts;
  const { part, way } = draft;
  const inPlace = [...before, part];
  const held = { part, grip: way.grip, gripper: way.grip.gripper };
  const securing = ofPhase(draft, 'securing');
  const loads = [
    ...pushLoads(scene, part, before, settings),
    ...seatingLoads(scene, part, way.approach.direction, settings),
    ...touches(facts, part, securing),
  ];
  return [
    { state: 'held', note: '', assembly: { inPlace, tacks: laid, held }, loads },
    ...securing.slice(0, -1).map((tack, i): StageState => ({
      ...{ state: 'tacking', note: `after ${tack.id}` },
      assembly: { inPlace, tacks: [...laid, ...securing.slice(0, i + 1)], held },
      loads: [...wires(facts, part, [tack]), ...touches(facts, part, securing.slice(i + 1))],
    })),
  ];
}

/** Let go, also with any one securing tack missing unless they are proved, and with all tacks. */
function onceLetGo(facts: Facts, { draft, before, laid }: StageMoment): StageState[] {
  const { scene, settings } = facts;
  const { part, way, tacks, proofPull } = draft;
  const { grip } = way;
  const inPlace = [...before, part];
  const [securing, completing] = [ofPhase(draft, 'securing'), ofPhase(draft, 'completing')];
  const pushes = pushLoads(scene, part, before, settings);
  const loads = [
    ...pushes,
    letGoLoad(scene, part, grip, grip.gripper),
    ...touches(facts, part, completing),
    ...wires(facts, part, completing),
  ];
  const proof = proofPull === undefined ? [] : [proofLoad(scene, part, grip, grip.gripper, proofPull)];
  const state = (list: readonly LaidTack[]): AssemblyState => ({
    ...{ inPlace, tacks: [...laid, ...list], held: undefined },
  });
  const lost = proofPull === undefined ? securing : [];
  return [
    { state: 'let-go', note: '', assembly: state(securing), loads: [...loads, ...proof] },
    ...lost.map((tack): StageState => ({
      ...{ state: 'one-tack-lost', note: `without ${tack.id}` },
      assembly: state(securing.filter((other) => other !== tack)),
      loads,
    })),
    { state: 'complete', note: '', assembly: state(tacks), loads: pushes },
  ];
}

function liftedOut({ scene, settings }: Facts, { draft, before, laid }: StageMoment): StageState[] {
  const inPlace = [...before, draft.part];
  const loads = liftOutLoads(scene, inPlace, settings);
  if (loads.length === 0) return [];
  const assembly = { inPlace, tacks: [...laid, ...draft.tacks], held: undefined, lifted: true };
  return [{ state: 'lifted-out', note: '', assembly, loads }];
}

/** What gives way first, in words. */
function weakestText(facts: Facts, { system, parts }: Assembly, element: Element | undefined): string {
  if (!element) return '';
  const name = (body: number): string => (body < 0 ? 'the table' : facts.scene.parts[parts[body]!]!.part.id);
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
      return 'the arm of the handling robot';
  }
}

/** Reserves of a stage as a plan states them: the worst of each family in each kind of state, solved from nothing. */
export function judgeStage(facts: Facts, moment: StageMoment): readonly PlanReserve[] {
  const worst = new Map<string, PlanReserve>();
  for (const state of stageStates(facts, moment))
    for (const { family, reserve } of judgeState(facts, state)) {
      const key = `${state.state} ${family}`;
      const known = worst.get(key);
      if (known === undefined || reserve.reserve < known.reserve) worst.set(key, reserve);
    }
  return [...worst.values()];
}

/** The worst reserve of each family of loads in one state of the whole assembly, solved from nothing. */
function judgeState(
  facts: Facts,
  { state, note, assembly, loads }: StageState,
): { readonly family: LoadFamily; readonly reserve: PlanReserve }[] {
  const { scene, settings, programs } = facts;
  const made = assemblySystem(scene, assembly, settings);
  const judge = prepare(programs, made.system, asDisturbances(loads, made), { cold: true });
  const stated = (family: LoadFamily, { name, reserve, weakest }: Verdict): PlanReserve => ({
    state,
    case: note === '' ? name : `${name}, ${note}`,
    required: requiredReserve(family, settings),
    reserve: rounded(reserve, 4),
    weakest: weakestText(facts, made, weakest),
  });
  try {
    const gravity = { family: 'gravity' as const, reserve: stated('gravity', judge.gravity()) };
    const rest = worstLoads(loads, (i) => judge.disturbance(i)).map(({ family, judged }) => ({
      family,
      reserve: stated(family, judged),
    }));
    return [gravity, ...rest];
  } finally {
    judge.dispose();
  }
}

/** What a state does not carry as often as it must: warm solves, stopped at the first; undefined when it carries all. */
export function stateFall(facts: Facts, { assembly, loads }: StageState): Fall | undefined {
  const { scene, settings, programs } = facts;
  const made = assemblySystem(scene, assembly, settings);
  const judge = prepare(programs, made.system, asDisturbances(loads, made));
  const required = settings.reserves.gravity;
  try {
    const { reserve } = judge.gravity();
    if (reserve < required + QUICK_MARGIN) return { load: 'gravity', reserve, required };
    return firstShort(loads, settings, (i) => judge.disturbance(i).reserve);
  } finally {
    judge.dispose();
  }
}
