import { intersects, union, type PartSet } from '../base/part-set.js';
import { compose, inverse, rotate, translate, type Pose } from '../geometry/pose.js';
import { length, scale, subtract, type Vec3 } from '../geometry/vector.js';
import { sixOf, type Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import { straightMoveTime, travelTime } from '../kinematics/travel.js';
import type { ArmHits, ArmRoom, Load, StandingArm } from './arm-room.js';

/** One move of a route. */
export interface Leg {
  readonly path: 'joint' | 'straight';
  /** Joints on the way, both ends included; of a joint move only these. */
  readonly way: readonly Joints[];
  /** Length of a straight one, mm; 0 otherwise. */
  readonly millimetres: number;
}

export const legEnd = ({ way }: Leg): Joints => way.at(-1)!;

/** A way for an arm with its load from one posture to another, in moves one after the other. */
export class Route {
  private found: ArmHits | undefined;
  private readonly besideArms = new Map<StandingArm, boolean>();

  constructor(
    private readonly room: ArmRoom,
    private readonly load: Load,
    readonly legs: readonly Leg[],
    private readonly except: number | undefined,
  ) {}

  /** Whole milliseconds of its moves. */
  get milliseconds(): number {
    const { arm, straightSpeed, straightAcceleration } = this.room.robot;
    return this.legs.reduce((sum, leg) => {
      const seconds =
        leg.path === 'joint'
          ? travelTime(arm, leg.way[0]!, legEnd(leg))
          : straightMoveTime(arm, leg.way, leg.millimetres, straightSpeed, straightAcceleration);
      return sum + Math.round(1000 * seconds);
    }, 0);
  }

  /** What it meets of all that may stand in the cell. Worked out once. */
  get hits(): ArmHits {
    this.found ??= this.legs.reduce<ArmHits | undefined>(
      (met, leg) => both(met, this.legHits(leg)),
      undefined,
    )!;
    return this.found;
  }

  isClearOf(present: PartSet): boolean {
    return this.hits.fixed === undefined && !intersects(this.hits.parts, present);
  }

  /** This route and the one that goes on from its end. */
  then(next: Route): Route {
    return new Route(this.room, this.load, [...this.legs, ...next.legs], this.except);
  }

  /** Whether links and load keep clear of an arm that stands still. Kept by arm. */
  isClearOfArm(standing: StandingArm): boolean {
    let clear = this.besideArms.get(standing);
    if (clear === undefined) {
      clear = this.legs.every(({ way }) => !this.room.meets(this.load, way, standing, 'all'));
      this.besideArms.set(standing, clear);
    }
    return clear;
  }

  private legHits({ path, way }: Leg): ArmHits {
    const { room, load, except } = this;
    if (path === 'joint') return room.hits(load, way, except);
    const { base, arm } = room.robot;
    const flange = (joints: Joints): Pose => compose(base, forward(arm, joints));
    const [start, end] = [flange(way[0]!), flange(way.at(-1)!)];
    const links = room.hits([], way, except);
    return both(links, room.sweepHits(load, start, subtract(end.at, start.at), except));
  }
}

const both = (a: ArmHits | undefined, b: ArmHits): ArmHits =>
  a === undefined ? b : { parts: union(a.parts, b.parts), fixed: a.fixed ?? b.fixed };

const UP: Vec3 = [0, 0, 1];
/** How far up from the end of a stroke a route may pass, mm; and how far on along the stroke. */
const RAISED = [60, 150, 300, 500];
const DRAWN_BACK = [100, 250];

/** The far end of a straight stroke, where a route begins or ends. */
export interface StrokeEnd {
  readonly joints: Joints;
  /** Unit direction, cell, in which the stroke led away from what it is at; undefined where there is no stroke. */
  readonly away: Vec3 | undefined;
}

/**
 * Ways of an arm with a load from one posture to another, at least one of them the end of a stroke: in one joint move,
 * else the quickest by way of points above that end or farther along its stroke, with the arm first turned about axis 1,
 * or, between two strokes, by way of home. Found when they are asked for, in that order. No promise that a way is found
 * wherever there is one.
 */
export class Routes {
  private readonly direct: Route;
  private others: readonly Route[] | undefined;

  constructor(
    private readonly room: ArmRoom,
    private readonly load: Load,
    private readonly from: StrokeEnd | 'home',
    private readonly to: StrokeEnd | 'home',
    /** A part that is not looked at: the one carried. */
    private readonly except?: number,
  ) {
    this.direct = this.route(undefined, [], undefined);
  }

  /** The first route that keeps clear of everything fixed and of the parts present, and that suits. */
  first(present: PartSet, suits: (route: Route) => boolean = () => true): Route | undefined {
    const fits = (route: Route): boolean => route.isClearOf(present) && suits(route);
    if (fits(this.direct)) return this.direct;
    this.others ??= this.detours();
    return this.others.find(fits);
  }

  /** What stands in the way of the direct route. */
  get hits(): ArmHits {
    return this.direct.hits;
  }

  private detours(): readonly Route[] {
    const { from, to } = this;
    const [out, back] = [this.pointsAt(from), this.pointsAt(to)];
    const middle = [this.middle()];
    const routes = [
      this.route(undefined, middle, undefined),
      ...out.flatMap((point, i) => {
        const last = back[i];
        if (point === null || last === null) return [];
        return [this.route(point, [], last), this.route(point, middle, last)];
      }),
    ];
    return routes
      .map((route, i) => ({ route, i, time: route.milliseconds }))
      .sort((a, b) => a.time - b.time || a.i - b.i)
      .map(({ route }) => route);
  }

  /** A posture to pass: home between two strokes, else home turned to the one stroke there is. */
  private middle(): Joints {
    const { home } = this.room.robot;
    const { from, to } = this;
    const end = from === 'home' ? to : to === 'home' ? from : 'home';
    return end === 'home' ? home : sixOf((i) => (i === 0 ? end.joints[0] : home[i]!));
  }

  /**
   * Straight ways out from the end of a stroke, up and on along the stroke; null where the arm cannot follow one or
   * there is no stroke to follow, undefined for home, from where none is needed.
   */
  private pointsAt(end: StrokeEnd | 'home'): readonly (Leg | null | undefined)[] {
    const ways = [
      ...RAISED.map((way) => scale(UP, way)),
      ...DRAWN_BACK.map((way) =>
        end === 'home' || end.away === undefined ? undefined : scale(end.away, way),
      ),
    ];
    return ways.map((by) => (end === 'home' ? undefined : by === undefined ? null : this.pointFrom(end, by)));
  }

  private pointFrom({ joints }: StrokeEnd, by: Vec3): Leg | null {
    const { base, arm } = this.room.robot;
    const from = forward(arm, joints);
    const to = translate(from, rotate(inverse(base).turn, by));
    const way = followStraight(arm, from, to, joints, STROKE_STEP);
    return way.ok ? { path: 'straight', way: way.value, millimetres: length(by) } : null;
  }

  /** Out along `first`, through joint postures, and in along `last` against its sense. */
  private route(first: Leg | undefined, postures: readonly Joints[], last: Leg | undefined): Route {
    const { home } = this.room.robot;
    const jointsOf = (end: StrokeEnd | 'home'): Joints => (end === 'home' ? home : end.joints);
    const stops = [
      first ? legEnd(first) : jointsOf(this.from),
      ...postures,
      last ? legEnd(last) : jointsOf(this.to),
    ];
    const legs = [
      ...(first ? [first] : []),
      ...stops.slice(1).map((to, i): Leg => ({ path: 'joint', way: [stops[i]!, to], millimetres: 0 })),
      ...(last ? [{ ...last, way: last.way.toReversed() }] : []),
    ];
    return new Route(this.room, this.load, legs, this.except);
  }
}
