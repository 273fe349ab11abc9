import { intersects, union, type PartSet } from '../base/part-set.js';
import { compose, inverse, rotate, translate, type Pose } from '../geometry/pose.js';
import { scale, subtract, type Vec3 } from '../geometry/vector.js';
import { sixOf, type Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { followStraight } from '../kinematics/straight-move.js';
import { STROKE_STEP } from '../kinematics/strokes.js';
import { straightTime, travelTime } from '../kinematics/travel.js';
import type { ArmHits, ArmRoom, Load } from './arm-room.js';

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
          : straightTime(leg.millimetres, straightSpeed, straightAcceleration);
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

/** Where a route begins or ends beside home: the far end of a straight stroke. */
export interface StrokeEnd {
  readonly joints: Joints;
  /** Unit direction, cell, in which the stroke led away from what it is at; undefined where there is no stroke. */
  readonly away: Vec3 | undefined;
}

/**
 * Ways of an arm with a load between its home and the end of a stroke: straight from one to the other in a joint move,
 * else the quickest by way of points above that end or farther along its stroke, or with the arm first turned about
 * axis 1. Found when they are asked for, in that order. No promise that a way is found wherever there is one.
 */
export class Routes {
  private readonly direct: readonly Route[];
  private others: readonly Route[] | undefined;

  constructor(
    private readonly room: ArmRoom,
    private readonly load: Load,
    private readonly end: StrokeEnd,
    /** Whether routes lead from home to the end of the stroke, or back. */
    private readonly heading: 'out' | 'home',
    /** A part that is not looked at: the one carried. */
    private readonly except?: number,
  ) {
    this.direct = [this.route([], undefined)];
  }

  /** The first route that keeps clear of everything fixed and of the parts present, and that suits. */
  first(present: PartSet, suits: (route: Route) => boolean = () => true): Route | undefined {
    const fits = (route: Route): boolean => route.isClearOf(present) && suits(route);
    const direct = this.direct.find(fits);
    if (direct) return direct;
    this.others ??= this.detours();
    return this.others.find(fits);
  }

  /** What stands in the way of the direct route. */
  get hits(): ArmHits {
    return this.direct[0]!.hits;
  }

  private detours(): readonly Route[] {
    const { home } = this.room.robot;
    const { joints, away } = this.end;
    const turned = sixOf((i) => (i === 0 ? joints[0] : home[i]!));
    const raised = RAISED.map((way) => scale(UP, way));
    const back = away === undefined ? [] : DRAWN_BACK.map((way) => scale(away, way));
    const points = [...raised, ...back].flatMap((by) => this.pointFrom(by));
    const routes = [
      this.route([turned], undefined),
      ...points.flatMap((point) => [this.route([], point), this.route([turned], point)]),
    ];
    return routes
      .map((route, i) => ({ route, i, time: route.milliseconds }))
      .sort((a, b) => a.time - b.time || a.i - b.i)
      .map(({ route }) => route);
  }

  /** The straight way from the end of the stroke on by `by`, if the arm can follow it. */
  private pointFrom(by: Vec3): readonly Leg[] {
    const { base, arm } = this.room.robot;
    const { joints } = this.end;
    const from = forward(arm, joints);
    const to = translate(from, rotate(inverse(base).turn, by));
    const way = followStraight(arm, from, to, joints, STROKE_STEP);
    const [x, y, z] = by;
    return way.ok ? [{ path: 'straight', way: way.value, millimetres: Math.hypot(x, y, z) }] : [];
  }

  /** From home through joint postures to the far end of `last`, and along that to the end of the stroke; or back. */
  private route(postures: readonly Joints[], last: Leg | undefined): Route {
    const stops = [this.room.robot.home, ...postures, last ? legEnd(last) : this.end.joints];
    const joint = stops
      .slice(1)
      .map((to, i): Leg => ({ path: 'joint', way: [stops[i]!, to], millimetres: 0 }));
    const inward = last ? [...joint, reversed(last)] : joint;
    const legs = this.heading === 'out' ? inward : inward.toReversed().map(reversed);
    return new Route(this.room, this.load, legs, this.except);
  }
}

const reversed = (leg: Leg): Leg => ({ ...leg, way: leg.way.toReversed() });
