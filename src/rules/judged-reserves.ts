import { dot, type Vec3 } from '../geometry/vector.js';
import { prepare } from '../mechanics/equilibrium.js';
import { residuals } from '../mechanics/residuals.js';
import type { Disturbance, System } from '../mechanics/system.js';
import type { ForceSet, Verdict } from '../mechanics/verdict.js';
import type { PlanReserve, PlanTack } from '../model/plan.js';
import { assemblySystem, type AssemblyState, type LaidTack } from './assembly.js';
import { arrivalLoads, seatingLoads } from './arrival-loads.js';
import { liftOutLoads } from './lift-out.js';
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
  type TorchTouch,
} from './load-cases.js';
import type { RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { placingGrip, stageViews, type HandlingView, type StageView } from './stage-views.js';
import { worstLoads } from './worst-loads.js';

export type ReserveState = PlanReserve['state'];

/** The worst reserve of one family of loads in one state of one stage. */
export interface JudgedReserve {
  readonly stage: StageView;
  readonly state: ReserveState;
  readonly family: LoadFamily;
  /** Name of the worst load of the family, the first of equals. */
  readonly name: string;
  /** 0 to 10; 0 also when the forces found do not pass the equations. */
  readonly reserve: number;
  /** Greatest amount by which the forces of any load miss an equation, cone or bound, N or N m. */
  readonly residual: number;
  readonly required: number;
}

/** Sizes, mm and N, beyond which numbers of a plan are another rule's matter and are not handed to the engine. */
const SOUND = 1e7;

const soundNumber = (value: number): boolean => Math.abs(value) <= SOUND;
const soundPoint = (point: Vec3): boolean => point.every(soundNumber);

/** A tack on a seam without length has no direction. */
const isDirection = (v: Vec3): boolean => Math.abs(dot(v, v) - 1) < 1e-6;

/** Whether a system has only numbers that can belong to a cell. */
export const sound = ({ bodies, bearings, links, pads, holds }: System): boolean =>
  bodies.every(({ mass, centre }) => soundNumber(mass) && soundPoint(centre)) &&
  bearings.every(({ corners }) => corners.every(soundPoint)) &&
  links.every(
    ({ at, along, length, strength }) =>
      soundPoint(at) && isDirection(along) && soundNumber(length) && soundNumber(strength),
  ) &&
  pads.every(({ at, pull }) => soundPoint(at) && soundNumber(pull)) &&
  holds.every(({ at }) => soundPoint(at));

/** Equations, cones and bounds are met within this many N, plus this share of the greatest force. */
const RESIDUAL = { newtons: 1e-3, share: 1e-5 } as const;

function greatestForce(forces: ForceSet): number {
  const all = [...forces.bearings, ...forces.links, ...forces.pads].flat(2);
  return all.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** By how much the forces of a verdict miss what they must keep; 0 where there are none to look at. */
function missOf(system: System, verdict: Verdict, step1: ForceSet | undefined, load?: Disturbance): number {
  if (verdict.forces === undefined || step1 === undefined) return 0;
  const { worst } = residuals(system, verdict.forces, { disturbance: load, gravityForces: step1 });
  return worst <= RESIDUAL.newtons + RESIDUAL.share * greatestForce(verdict.forces) ? 0 : worst;
}

interface Case {
  readonly state: ReserveState;
  /** What sets it apart from other cases of the same state; empty where there is one only. */
  readonly note: string;
  readonly assembly: AssemblyState;
  readonly loads: readonly PartLoad[];
}

/** Judges one state from nothing and keeps the worst of each family. */
function judgeCase(context: RuleContext, view: StageView, one: Case): JudgedReserve[] {
  const { scene, settings, programs } = context;
  const assembly = assemblySystem(scene, one.assembly, settings);
  const { system } = assembly;
  const loads = asDisturbances(one.loads, assembly);
  if (!sound(system) || !loads.every(({ forces }) => forces.every(({ at }) => soundPoint(at)))) return [];
  const judge = prepare(programs, system, loads, { cold: true, forces: true });
  const judged = (verdict: Verdict, load?: Disturbance): { reserve: number; name: string; miss: number } => {
    const step1 = judge.gravity();
    const miss = step1.stands ? missOf(system, verdict, step1.forces, load) : 0;
    return { name: verdict.name, miss, reserve: miss > 0 ? 0 : verdict.reserve };
  };
  try {
    const gravity = { family: 'gravity' as const, judged: judged(judge.gravity()) };
    const rest = worstLoads(one.loads, (i) => judged(judge.disturbance(i), loads[i]));
    return [gravity, ...rest].map(({ family, judged: { name, reserve, miss } }) => ({
      ...{ stage: view, state: one.state, family, reserve, residual: miss },
      name: one.note === '' ? name : `${name}, ${one.note}`,
      required: requiredReserve(family, settings),
    }));
  } finally {
    judge.dispose();
  }
}

/** What the cases of a stage are made from. */
interface Moment {
  readonly view: StageView;
  readonly placing: HandlingView | undefined;
  readonly securing: readonly PlacedTack[];
  readonly completing: readonly PlacedTack[];
  /** Tacks of earlier stages. */
  readonly laid: readonly LaidTack[];
}

/** A tack of a plan whose seam is known, as statics and torches see it. */
interface PlacedTack {
  readonly tack: LaidTack;
  readonly touch: TorchTouch;
}

function placedTacks(seams: SeamPlaces, tacks: readonly PlanTack[]): PlacedTack[] {
  return [...tacks]
    .sort((p, q) => p.order - q.order)
    .flatMap((tack) => {
      const place = seams.tack(tack);
      if (place === undefined) return [];
      const { a, b, along, open } = place.seam;
      return [
        {
          tack: { a, b, at: place.middle, along, length: tack.length, strength: tack.strength },
          touch: { id: tack.id, at: place.middle, along, open },
        },
      ];
    });
}

const onlyTacks = (list: readonly PlacedTack[]): LaidTack[] => list.map(({ tack }) => tack);

/** The states of a stage with their loads; those that need an unknown gripper are left out. */
function casesOf(context: RuleContext, moment: Moment): Case[] {
  const { scene } = context;
  const { view, placing } = moment;
  const last = view.before.length + 1 === scene.parts.length;
  return [
    ...arriving(context, moment),
    ...(placing !== undefined && view.stage.held !== null ? whileHeld(context, moment, placing) : []),
    ...(placing === undefined ? [] : onceLetGo(context, moment, placing)),
    complete(context, moment),
    ...(last && view.before.length > 0 ? liftedOut(context, moment) : []),
  ];
}

function arriving({ scene, settings }: RuleContext, { view, laid }: Moment): Case[] {
  const { part, before, stage } = view;
  const direction = stage.approach.direction;
  const loads = isDirection(direction) ? arrivalLoads(scene, part, direction, before, settings) : [];
  if (loads.length === 0) return [];
  const assembly = { inPlace: before, tacks: laid, held: undefined };
  return [{ state: 'arriving', note: '', assembly, loads }];
}

function whileHeld({ scene, settings }: RuleContext, moment: Moment, placing: HandlingView): Case[] {
  const { view, securing, laid } = moment;
  const { part, before, stage } = view;
  const inPlace = [...before, part];
  const held = { part, grip: placing.grip, gripper: placing.gripper };
  const { direction } = stage.approach;
  const touches = (list: readonly PlacedTack[]): PartLoad[] =>
    list.flatMap(({ touch }) => torchLoads(part, touch, settings));
  const loads = [
    ...pushLoads(scene, part, before, settings),
    ...(isDirection(direction) ? seatingLoads(scene, part, direction, settings) : []),
    ...touches(securing),
  ];
  return [
    { state: 'held', note: '', assembly: { inPlace, tacks: laid, held }, loads },
    ...securing.slice(0, -1).map(({ touch }, i): Case => ({
      ...{ state: 'tacking', note: `after ${touch.id}` },
      assembly: { inPlace, tacks: [...laid, ...onlyTacks(securing.slice(0, i + 1))], held },
      loads: [...wireLoads(part, touch, settings), ...touches(securing.slice(i + 1))],
    })),
  ];
}

function onceLetGo({ scene, settings }: RuleContext, moment: Moment, placing: HandlingView): Case[] {
  const { view, securing, completing, laid } = moment;
  const { part, before, stage } = view;
  const { grip, gripper } = placing;
  const loads = [
    ...pushLoads(scene, part, before, settings),
    letGoLoad(scene, part, grip, gripper),
    ...completing.flatMap(({ touch }) => torchLoads(part, touch, settings)),
    ...completing.flatMap(({ touch }) => wireLoads(part, touch, settings)),
  ];
  const { proofPull } = stage;
  const proof = proofPull === null ? [] : [proofLoad(scene, part, grip, gripper, proofPull)];
  const state = (tacks: readonly PlacedTack[]): AssemblyState => ({
    ...{ inPlace: [...before, part], tacks: [...laid, ...onlyTacks(tacks)], held: undefined },
  });
  return [
    { state: 'let-go', note: '', assembly: state(securing), loads: [...loads, ...proof] },
    ...(proofPull === null ? securing : []).map((lost): Case => ({
      ...{ state: 'one-tack-lost', note: `without ${lost.touch.id}` },
      assembly: state(securing.filter((other) => other !== lost)),
      loads,
    })),
  ];
}

function complete({ scene, settings }: RuleContext, { view, securing, completing, laid }: Moment): Case {
  const inPlace = [...view.before, view.part];
  const tacks = [...laid, ...onlyTacks([...securing, ...completing])];
  const loads = pushLoads(scene, view.part, view.before, settings);
  return { state: 'complete', note: '', assembly: { inPlace, tacks, held: undefined }, loads };
}

function liftedOut({ scene, settings }: RuleContext, { view, securing, completing, laid }: Moment): Case[] {
  const inPlace = [...view.before, view.part];
  const loads = liftOutLoads(scene, inPlace, settings);
  if (loads.length === 0) return [];
  const tacks = [...laid, ...onlyTacks([...securing, ...completing])];
  return [
    { state: 'lifted-out', note: '', assembly: { inPlace, tacks, held: undefined, lifted: true }, loads },
  ];
}

/** The worst of each family in each kind of state. */
function worstOf(judged: readonly JudgedReserve[]): readonly JudgedReserve[] {
  const worst = new Map<string, JudgedReserve>();
  for (const one of judged) {
    const key = `${one.state} ${one.family}`;
    const known = worst.get(key);
    if (known === undefined || one.reserve < known.reserve) worst.set(key, one);
  }
  return [...worst.values()];
}

const KNOWN = new WeakMap<RuleContext, readonly JudgedReserve[]>();

/**
 * All reserves of a plan, recomputed from nothing with the stated tack strengths: whole assembly, nothing fixed, forces
 * put back into the equations. Two rules ask for them; they are worked out once for each context.
 */
export function judgedReserves(context: RuleContext): readonly JudgedReserve[] {
  const known = KNOWN.get(context);
  if (known !== undefined) return known;
  const seams = new SeamPlaces(context);
  const laid: LaidTack[] = [];
  const judged = stageViews(context).flatMap((view) => {
    const of = (phase: PlanTack['phase']): PlacedTack[] =>
      placedTacks(
        seams,
        view.stage.tacks.filter((tack) => tack.phase === phase),
      );
    const [securing, completing] = [of('securing'), of('completing')];
    const placing = placingGrip(context, view);
    const moment: Moment = { view, placing, securing, completing, laid: [...laid] };
    laid.push(...onlyTacks(securing), ...onlyTacks(completing));
    return worstOf(casesOf(context, moment).flatMap((one) => judgeCase(context, view, one)));
  });
  KNOWN.set(context, judged);
  return judged;
}
