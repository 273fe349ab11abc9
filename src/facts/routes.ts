import type { PartSet } from '../base/part-set.js';
import { compose, inverse, rotate, translate } from '../geometry/pose.js';
import { along, length, scale, unit, type Vec3 } from '../geometry/vector.js';
import { sixOf, type Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import type { ArmHits, ArmRoom, Load, StandingArm } from './arm-room.js';
import { Leg, type Mover } from './leg.js';

/** A way for an arm with its load from one posture to another, in moves one after the other. */
export class Route {
  /** Straight ones first: they are short, and at the end where things are near. */
  private readonly asked: readonly Leg[];

  constructor(readonly legs: readonly Leg[]) {
    const [straight, joint] = [legs.filter(isStraight), legs.filter((leg) => !isStraight(leg))];
    this.asked = [...straight, ...joint];
  }

  /** Whole milliseconds of its moves. */
  get milliseconds(): number {
    return this.legs.reduce((sum, leg) => sum + leg.milliseconds, 0);
  }

  /** Whether it keeps clear of everything fixed, of the parts present and of arms that stand still. */
  isClearOf(present: PartSet, arms: readonly StandingArm[] = []): boolean {
    return this.asked.every((leg) => leg.isClearOf(present) && arms.every((arm) => leg.isClearOfArm(arm)));
  }

  /** This route and the one that goes on from its end. */
  then(next: Route): Route {
    return new Route([...this.legs, ...next.legs]);
  }
}

const isStraight = ({ path }: Leg): boolean => path === 'straight';

const UP: Vec3 = [0, 0, 1];
/** How far up from the end of a stroke a route may pass, mm; how far on along the stroke; and how far towards the arm. */
const RAISED = [60, 150, 300, 500];
const DRAWN_BACK = [100, 250];
const DRAWN_IN = [150, 300, 500];
/** Both at once, from under or behind something: along the stroke, and towards the arm. */
const DRAWN_OUT = [
  [100, 300],
  [250, 500],
] as const;

/** The far end of a straight stroke, where a route begins or ends. */
export interface StrokeEnd {
  readonly joints: Joints;
  /** Unit direction, cell, in which the stroke led away from what it is at; undefined where there is no stroke. */
  readonly away: Vec3 | undefined;
}

/**
 * Ways of an arm with a load from one posture to another, at least one of them the end of a stroke: in one joint move,
 * else the quickest by way of points above that end, farther along its stroke or nearer to the arm, with the arm first
 * turned about axis 1, or, between two strokes, by way of home. Found when they are asked for, in that order. No promise that a way is found
 * wherever there is one.
 */
export class Routes {
  private readonly mover: Mover;
  private readonly direct: Route;
  private others: Detours | undefined;
  /** Standing still at each end that is a stroke's. */
  private readonly atEnds: readonly Leg[];

  constructor(
    room: ArmRoom,
    load: Load,
    private readonly from: StrokeEnd | 'home',
    private readonly to: StrokeEnd | 'home',
    /** A part that is not looked at: the one carried. */
    except?: number,
  ) {
    this.mover = { room, load, except };
    this.direct = this.route(undefined, [], undefined);
    this.atEnds = this.ends().map(({ joints }) => new Leg(this.mover, 'joint', [joints]));
  }

  /** The first route that keeps clear of everything fixed, of the parts present and of arms that stand still. */
  first(present: PartSet, arms: readonly StandingArm[] = []): Route | undefined {
    if (!this.atEnds.every((end) => arms.every((arm) => end.isClearOfArm(arm)))) return undefined;
    const fits = (route: Route): boolean => route.isClearOf(present, arms);
    // Where the load keeps its clearance at both ends already; else only routes that go straight there can do.
    const free = this.atEnds.every((end) => end.isClearOf(present));
    if (free && fits(this.direct)) return this.direct;
    this.others ??= this.detours();
    const { all, straightAtEnds } = this.others;
    return (free ? all : straightAtEnds).find(fits);
  }

  /** What stands in the way of the direct route. */
  get hits(): ArmHits {
    return this.direct.legs[0]!.hits;
  }

  private ends(): readonly StrokeEnd[] {
    return [this.from, this.to].filter((end) => end !== 'home');
  }

  private detours(): Detours {
    const [out, back] = [this.pointsAt(this.from), this.pointsAt(this.to)];
    const middle = [this.middle()];
    const straightAtEnds = out.flatMap((point, i) => {
      const last = back[i];
      if (point === null || last === null) return [];
      const inward = last?.reversed;
      return [this.route(point, [], inward), this.route(point, middle, inward)];
    });
    return {
      all: byTime([this.route(undefined, middle, undefined), ...straightAtEnds]),
      straightAtEnds: byTime(straightAtEnds),
    };
  }

  /** A posture to pass: home between two strokes, else home turned to the one stroke there is. */
  private middle(): Joints {
    const { home } = this.mover.room.robot;
    const [end, other] = this.ends();
    return other ? home : sixOf((i) => (i === 0 ? end!.joints[0] : home[i]!));
  }

  /**
   * Straight ways out from the end of a stroke: up, on along the stroke, and level towards the foot of the arm; null
   * where the arm cannot follow one or there is no stroke to follow, undefined for home, from where none is needed.
   */
  private pointsAt(end: StrokeEnd | 'home'): readonly (Leg | null | undefined)[] {
    if (end === 'home') return [...RAISED, ...DRAWN_BACK, ...DRAWN_IN, ...DRAWN_OUT].map(() => undefined);
    const { away, joints } = end;
    const inward = this.towardsFoot(joints);
    return [
      ...RAISED.map((way) => this.pointFrom(end, scale(UP, way))),
      ...DRAWN_BACK.map((way) => away && this.pointFrom(end, scale(away, way))),
      ...DRAWN_IN.map((way) => inward && this.pointFrom(end, scale(inward, way))),
      ...DRAWN_OUT.map(
        ([back, into]) => away && inward && this.pointFrom(end, along(scale(away, back), inward, into)),
      ),
    ].map((point) => point ?? null);
  }

  /** Level and unit, from the flange to axis 1 of an upright arm; undefined where the flange is on it. */
  private towardsFoot(joints: Joints): Vec3 | undefined {
    const { base, arm } = this.mover.room.robot;
    const { at } = compose(base, forward(arm, joints));
    const level: Vec3 = [base.at[0] - at[0], base.at[1] - at[1], 0];
    return length(level) < 1 ? undefined : unit(level);
  }

  private pointFrom({ joints }: StrokeEnd, by: Vec3): Leg | null {
    const { base, arm } = this.mover.room.robot;
    const from = forward(arm, joints);
    const to = translate(from, rotate(inverse(base).turn, by));
    const way = followStraight(arm, from, to, joints, STROKE_STEP);
    return way.ok ? new Leg(this.mover, 'straight', way.value, length(by)) : null;
  }

  /** Out along `first`, through joint postures, and in along `last`. */
  private route(first: Leg | undefined, postures: readonly Joints[], last: Leg | undefined): Route {
    const { home } = this.mover.room.robot;
    const jointsOf = (end: StrokeEnd | 'home'): Joints => (end === 'home' ? home : end.joints);
    const stops = [first?.end ?? jointsOf(this.from), ...postures, last?.start ?? jointsOf(this.to)];
    return new Route([
      ...(first ? [first] : []),
      ...stops.slice(1).map((to, i) => new Leg(this.mover, 'joint', [stops[i]!, to])),
      ...(last ? [last] : []),
    ]);
  }
}

/** Routes by their time, quickest first; some go straight at every end that is a stroke's. */
interface Detours {
  readonly all: readonly Route[];
  readonly straightAtEnds: readonly Route[];
}

const byTime = (routes: readonly Route[]): readonly Route[] =>
  routes
    .map((route, i) => ({ route, i, time: route.milliseconds }))
    .sort((a, b) => a.time - b.time || a.i - b.i)
    .map(({ route }) => route);
