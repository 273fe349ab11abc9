import { dot, type Vec3 } from '../geometry/vector.js';
import { prepare } from '../mechanics/equilibrium.js';
import type { Disturbance, System } from '../mechanics/system.js';
import type { Verdict } from '../mechanics/verdict.js';
import type { PlanReserve, PlanTack } from '../model/plan.js';
import { assemblySystem, type LaidTack } from './assembly.js';
import { ForceCheck } from './force-check.js';
import { asDisturbances, requiredReserve, type LoadFamily, type TouchedTack } from './load-cases.js';
import type { RuleContext } from './rule.js';
import { turnBefore } from './seen-stage.js';
import { SeamPlaces } from './seam-places.js';
import { everyTack, type StatedTack } from './stage-tacks.js';
import { stageStates, type StageMoment, type StageState } from './stage-states.js';
import { otherHolder, placingGrip, stageViews, type StageView } from './stage-views.js';
import { leastOfFamilies, worstLoads, worstOfEach } from './worst-loads.js';

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

/** Judges one state from nothing and keeps the worst of each family; `known` are those of other states of its kind. */
function judgeCase(
  context: RuleContext,
  view: StageView,
  one: StageState,
  known: ReadonlyMap<LoadFamily, number>,
): JudgedReserve[] {
  const { scene, settings, programs } = context;
  const assembly = assemblySystem(scene, one.assembly, settings);
  const { system } = assembly;
  const loads = asDisturbances(one.loads, assembly);
  if (!sound(system) || !loads.every(({ forces }) => forces.every(({ at }) => soundPoint(at)))) return [];
  const judge = prepare(programs, system, loads, { cold: true, forces: true });
  const check = new ForceCheck(system, judge);
  const judged = (verdict: Verdict, load?: Disturbance): { reserve: number; name: string; miss: number } => {
    const miss = judge.gravity().stands ? check.missOf(verdict, load) : 0;
    return { name: verdict.name, miss, reserve: miss > 0 ? 0 : verdict.reserve };
  };
  try {
    const gravity = { family: 'gravity' as const, judged: judged(judge.gravity()) };
    const rest = worstLoads(
      one.loads,
      {
        judged: (index) => judged(judge.disturbance(index), loads[index]),
        least: (index, wanted) => judge.leastDisturbance(index, wanted),
      },
      known,
    );
    return [gravity, ...rest].map(({ family, judged: { name, reserve, miss } }) => ({
      ...{ stage: view, state: one.state, family, reserve, residual: miss },
      name: one.note === '' ? name : `${name}, ${one.note}`,
      required: requiredReserve(family, settings, one.state),
    }));
  } finally {
    judge.dispose();
  }
}

/** Who lays a tack: a robot, or nobody of them where a person does. */
type Laying = StatedTack & Partial<Pick<PlanTack, 'robot'>>;

/** The tacks of a stage whose seams are known, in their order. */
export function touchedTacks(seams: SeamPlaces, tacks: readonly Laying[]): TouchedTack[] {
  return [...tacks]
    .sort((p, q) => p.order - q.order)
    .flatMap((tack) => {
      const place = seams.tack(tack);
      if (place === undefined) return [];
      const { a, b, along, open } = place.seam;
      return [
        {
          robot: tack.robot ?? '',
          tack: { a, b, at: place.middle, along, length: tack.length, strength: tack.strength },
          touch: { id: tack.id, at: place.middle, along, open },
        },
      ];
    });
}

/** A stage of a plan as statics sees it; undefined where a part that is held, or its grip, is not known. */
function momentOf(
  context: RuleContext,
  view: StageView,
  seams: SeamPlaces,
  laid: readonly LaidTack[],
): StageMoment | undefined {
  const { stage, part, before } = view;
  const direction = stage.approach?.direction;
  const placing = placingGrip(context, view);
  const other = otherHolder(context, view);
  if (stage.alsoHeld && other === undefined) return undefined;
  if (stage.held !== null && placing === undefined) return undefined;
  const of = (phase: PlanTack['phase']): TouchedTack[] =>
    touchedTacks(
      seams,
      stage.tacks.filter((tack) => tack.phase === phase),
    );
  return {
    ...{ part, before, laid, held: stage.held !== null, heldOn: stage.stands === 'held' },
    proofPull: stage.proofPull ?? undefined,
    direction: direction && isDirection(direction) ? direction : undefined,
    placing: placing && { part, grip: placing.grip, gripper: placing.gripper, robot: placing.robot },
    other,
    otherKept: other?.kept === true,
    turnedAfter: turnBefore(context.plan, context.cell, view.index + 1) !== undefined,
    securing: of('securing'),
    completing: [...of('completing'), ...touchedTacks(seams, stage.manual?.tacks ?? [])],
  };
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
    const moment = momentOf(context, view, seams, [...laid]);
    laid.push(...touchedTacks(seams, everyTack(view.stage)).map(({ tack }) => tack));
    if (moment === undefined) return [];
    const found: JudgedReserve[] = [];
    for (const one of stageStates(context.scene, moment, context.settings))
      found.push(...judgeCase(context, view, one, leastOfFamilies(found, one.state)));
    return worstOfEach(found);
  });
  KNOWN.set(context, judged);
  return judged;
}
