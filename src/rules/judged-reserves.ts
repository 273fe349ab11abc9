import { dot, type Vec3 } from '../geometry/vector.js';
import { judge } from '../mechanics/equilibrium.js';
import { residuals } from '../mechanics/residuals.js';
import type { Disturbance, System } from '../mechanics/system.js';
import type { ForceSet, Verdict } from '../mechanics/verdict.js';
import type { PlanReserve, PlanTack } from '../model/plan.js';
import { assemblySystem, type AssemblyState, type LaidTack } from './assembly.js';
import {
  asDisturbances,
  familyOf,
  letGoLoad,
  otherLetGoLoad,
  LOAD_FAMILIES,
  pushLoads,
  torchLoads,
  type LoadFamily,
  type PartLoad,
} from './load-cases.js';
import { looseLoads, type TouchedJoint } from './loose-parts.js';
import type { RuleContext } from './rule.js';
import { SeamPlaces } from './seam-places.js';
import { holdersOf, otherHolder, placingGrip, stageViews, type StageView } from './stage-views.js';

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
  readonly assembly: AssemblyState;
  readonly loads: readonly PartLoad[];
}

/** Judges one state from nothing and keeps the worst of each family. */
function judgeCase(context: RuleContext, view: StageView, one: Case): JudgedReserve[] {
  const { scene, settings, programs } = context;
  const assembly = assemblySystem(scene, one.assembly, settings, new Set());
  const { system } = assembly;
  const loads = asDisturbances(one.loads, assembly);
  if (!sound(system) || !loads.every(({ forces }) => forces.every(({ at }) => soundPoint(at)))) return [];
  const { gravity, disturbances } = judge(programs, system, loads, { cold: true, forces: true });
  const verdicts = [
    { verdict: gravity, miss: gravity.stands ? missOf(system, gravity, gravity.forces) : 0 },
    ...disturbances.map((verdict, i) => ({
      verdict,
      miss: missOf(system, verdict, gravity.forces, loads[i]),
    })),
  ];
  return LOAD_FAMILIES.flatMap((family) => {
    const own = verdicts
      .filter(({ verdict }) => familyOf(verdict.name) === family)
      .map(({ verdict, miss }) => ({ name: verdict.name, miss, reserve: miss > 0 ? 0 : verdict.reserve }));
    if (own.length === 0) return [];
    const worst = own.reduce((least, next) => (next.reserve < least.reserve ? next : least));
    const residual = Math.max(...own.map(({ miss }) => miss));
    const required = settings.reserves[family === 'gravity' ? 'gravity' : 'disturbance'];
    return [
      { stage: view, state: one.state, family, name: worst.name, reserve: worst.reserve, residual, required },
    ];
  });
}

function laidTacks(seams: SeamPlaces, tacks: readonly PlanTack[]): LaidTack[] {
  return tacks.flatMap((tack) => {
    const place = seams.tack(tack);
    if (place === undefined) return [];
    const { a, b, along } = place.seam;
    return [{ a, b, at: place.middle, along, length: tack.length, strength: tack.strength }];
  });
}

/** The states of a stage with their loads; those that need an unknown robot, gripper or part are left out. */
function casesOf(
  context: RuleContext,
  view: StageView,
  seams: SeamPlaces,
  laid: readonly LaidTack[],
): Case[] {
  const { scene, settings } = context;
  const { stage, part, before } = view;
  const placing = placingGrip(context, view);
  const other = otherHolder(context, view);
  if (stage.alsoHeld && other === undefined) return [];
  const of = (phase: PlanTack['phase']): PlanTack[] => stage.tacks.filter((tack) => tack.phase === phase);
  const inPlace = [...before, part];
  const caseOf = (
    state: ReserveState,
    assembly: Omit<AssemblyState, 'inPlace'>,
    own: readonly PartLoad[],
    touched: readonly PlanTack[],
  ): Case => {
    const joints = touched.flatMap((tack): TouchedJoint[] => {
      const place = seams.tack(tack);
      if (place === undefined) return [];
      const { a, b, along, open } = place.seam;
      return [{ a, b, touch: { id: tack.id, at: place.middle, along, open } }];
    });
    const whole = { ...assembly, inPlace };
    const touches = joints.flatMap(({ touch }) => torchLoads(part, touch, settings));
    const loads = [...own, ...touches, ...looseLoads(scene, whole, part, other?.part, joints, settings)];
    return { state, assembly: whole, loads };
  };
  const pushes = pushLoads(scene, part, settings);
  const secured = [...laid, ...laidTacks(seams, of('securing'))];
  const all = [...laid, ...laidTacks(seams, stage.tacks)];
  const complete = caseOf('complete', { tacks: all, held: [] }, pushes, []);
  if (placing === undefined) return [complete];
  const pull = letGoLoad(scene, part, placing.grip, placing.gripper);
  const held = holdersOf(context, view);
  const otherPull = other ? [otherLetGoLoad(scene, other)] : [];
  const alone = other !== undefined && stage.held === null;
  const pulls = alone ? otherPull : [pull, ...otherPull];
  const letGo = caseOf('let-go', { tacks: secured, held: [] }, [...pushes, ...pulls], of('completing'));
  if (held.length === 0) return [letGo, complete];
  const holding = caseOf('held', { tacks: laid, held }, pushes, of('securing'));
  if (stage.stands === 'held') return [holding, caseOf('complete', { tacks: all, held }, pushes, [])];
  const standing = caseOf('standing', { tacks: laid, held: [] }, [...pushes, pull], []);
  if (alone) return [standing, holding, letGo, complete];
  if (other === undefined) return [holding, letGo, complete];
  const own = held.filter((one) => one.part === part);
  const oneLetGo = caseOf('one-let-go', { tacks: secured, held: own }, [...pushes, ...otherPull], []);
  return [holding, oneLetGo, letGo, complete];
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
    const reserves = casesOf(context, view, seams, [...laid]).flatMap((one) => judgeCase(context, view, one));
    laid.push(...laidTacks(seams, view.stage.tacks));
    return reserves;
  });
  KNOWN.set(context, judged);
  return judged;
}
