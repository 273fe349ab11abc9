import type { PartSet } from '../base/part-set.js';
import { sixOf, type Joints } from '../kinematics/arm.js';
import type { ArmHits, ArmRoom, Load, StandingArm } from './arm-room.js';
import { Leg, type Mover } from './leg.js';
import { WAYS_OUT, type StrokeEnd } from './ways-out.js';

/** A way for an arm with its load from one posture to another, in moves one after the other. */
export class Route {
  constructor(readonly legs: readonly Leg[]) {}

  /** Whole milliseconds of its moves. */
  get milliseconds(): number {
    return this.legs.reduce((sum, leg) => sum + leg.milliseconds, 0);
  }

  /** Whether it keeps clear of everything fixed, of the parts present and of arms that stand still. */
  isClearOf(present: PartSet, arms: readonly StandingArm[] = []): boolean {
    // Straight ones first: they are short, and at the end where things are near.
    return this.areClear('straight', present, arms) && this.areClear('joint', present, arms);
  }

  private areClear(path: Leg['path'], present: PartSet, arms: readonly StandingArm[]): boolean {
    for (const leg of this.legs)
      if (leg.path === path && !(leg.isClearOf(present) && leg.isClearOfArms(arms))) return false;
    return true;
  }

  /** This route and the one that goes on from its end. */
  then(next: Route): Route {
    return new Route([...this.legs, ...next.legs]);
  }
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
    if (!this.atEnds.every((end) => end.isClearOfArms(arms))) return undefined;
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

  /** Straight legs out from the end of a stroke; null where there is none, undefined for home, from where none is needed. */
  private pointsAt(end: StrokeEnd | 'home'): readonly (Leg | null | undefined)[] {
    if (end === 'home') return Array.from({ length: WAYS_OUT }, () => undefined);
    return this.mover.room.waysOut
      .from(end)
      .map((out) => out && new Leg(this.mover, 'straight', out.way, out.millimetres));
  }

  /** Out along `first`, through joint postures, and in along `last`. */
  private route(first: Leg | undefined, postures: readonly Joints[], last: Leg | undefined): Route {
    const { home } = this.mover.room.robot;
    const jointsOf = (end: StrokeEnd | 'home'): Joints => (end === 'home' ? home : end.joints);
    const legs = first ? [first] : [];
    let at = first?.end ?? jointsOf(this.from);
    for (const to of [...postures, last?.start ?? jointsOf(this.to)]) {
      legs.push(new Leg(this.mover, 'joint', [at, to]));
      at = to;
    }
    if (last) legs.push(last);
    return new Route(legs);
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
