import { has, intersects, isSubset, union, withMember, type PartSet } from '../base/part-set.js';
import { compose, type Pose } from '../geometry/pose.js';
import { subtract, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { straightMoveTime, travelTime } from '../kinematics/travel.js';
import type { ArmHits, ArmRoom, KeysAsked, Load, StandingArm } from './arm-room.js';

/** An arm with what is on its flange, and a part that it need not keep clear of: the one it carries. */
export interface Mover {
  readonly room: ArmRoom;
  readonly load: Load;
  readonly except: number | undefined;
}

/** What is known of a leg, there and back alike: how long it takes, what it meets and what it keeps clear of. */
class Answers {
  milliseconds: number | undefined;
  /** What was asked for to the end: nothing, what is fixed and the parts that it is clear of, or all there is. */
  asked: 'nothing' | 'some' | 'all' = 'nothing';
  /** Whether it meets something fixed. */
  blocked = false;
  /** Whether it keeps clear of arms that stand still, as far as it was asked. */
  arms: Map<StandingArm, boolean> | undefined;

  constructor(
    public clear: PartSet,
    public met: PartSet,
  ) {}
}

/** One move of a route. */
export class Leg {
  constructor(
    private readonly mover: Mover,
    readonly path: 'joint' | 'straight',
    /** Joints on the way, both ends included; of a joint move only these. */
    readonly way: readonly Joints[],
    /** Length of a straight one, mm; 0 otherwise. */
    readonly millimetres = 0,
    private readonly answers = new Answers(mover.room.noParts, mover.room.noParts),
  ) {}

  get start(): Joints {
    return this.way[0]!;
  }

  get end(): Joints {
    return this.way.at(-1)!;
  }

  get reversed(): Leg {
    return new Leg(this.mover, this.path, this.way.toReversed(), this.millimetres, this.answers);
  }

  /** Whole milliseconds. */
  get milliseconds(): number {
    return (this.answers.milliseconds ??= Math.round(1000 * this.seconds));
  }

  private get seconds(): number {
    const { arm, straightSpeed, straightAcceleration } = this.mover.room.robot;
    return this.path === 'joint'
      ? travelTime(arm, this.start, this.end)
      : straightMoveTime(arm, this.way, this.millimetres, straightSpeed, straightAcceleration);
  }

  /** What it meets of all that may stand in the cell. */
  get hits(): ArmHits {
    const { room, load, except } = this.mover;
    if (this.path === 'joint') return room.hits(load, this.way, except);
    const links = room.hits([], this.way, except);
    const swept = room.sweepHits(load, ...this.swept, except);
    return { parts: union(links.parts, swept.parts), fixed: links.fixed ?? swept.fixed };
  }

  /** Whether it keeps clear of all that is fixed and of the parts present. */
  isClearOf(present: PartSet): boolean {
    const { asked, blocked, clear, met } = this.answers;
    if (blocked || intersects(met, present)) return false;
    return asked === 'all' || (asked === 'some' && isSubset(present, clear)) || this.judge(present);
  }

  /**
   * Asks for what is not known yet, until something is in the way. The first time only for what is fixed and the parts
   * present, since a leg that is ever blocked is mostly blocked then; after that for all other parts, so that it is never
   * asked again.
   */
  private judge(present: PartSet): boolean {
    const { answers } = this;
    const { asked, clear, met } = answers;
    const { except } = this.mover;
    const isPresent = (part: number): boolean => part !== except && has(present, part);
    const isOpen = (part: number): boolean => part !== except && !has(clear, part) && !has(met, part);
    const found = this.met({
      among: asked === 'nothing' ? (key) => key < 0 || isPresent(key) : (key) => key >= 0 && isOpen(key),
      fatal: (key) => key < 0 || isPresent(key),
    });
    answers.blocked = found.some((key) => key < 0);
    answers.met = found.filter((key) => key >= 0).reduce(withMember, met);
    if (found.some((key) => key < 0 || isPresent(key))) return false;
    answers.asked = asked === 'nothing' ? 'some' : 'all';
    answers.clear = union(clear, present);
    return true;
  }

  /** Whether links and load keep clear of arms that stand still. */
  isClearOfArms(standing: readonly StandingArm[]): boolean {
    for (const arm of standing) if (!this.isClearOfArm(arm)) return false;
    return true;
  }

  private isClearOfArm(standing: StandingArm): boolean {
    const arms = (this.answers.arms ??= new Map());
    let clear = arms.get(standing);
    if (clear === undefined) {
      clear = !this.mover.room.meets(this.mover.load, this.way, standing, 'all');
      arms.set(standing, clear);
    }
    return clear;
  }

  /** Links by their distance; what is on the flange of a straight one by its depth, since it may part from what it touched. */
  private met(asked: KeysAsked): readonly number[] {
    const { room, load } = this.mover;
    if (this.path === 'joint') return [...room.met(load, this.way, asked)];
    const links = [...room.met([], this.way, asked)];
    return links.some(asked.fatal) ? links : [...links, ...room.swept(load, ...this.swept, asked)];
  }

  /** Where the flange of a straight one starts, and its way; in the cell. */
  private get swept(): readonly [start: Pose, way: Vec3] {
    const { base, arm } = this.mover.room.robot;
    const flange = (joints: Joints): Pose => compose(base, forward(arm, joints));
    const [start, end] = [flange(this.start), flange(this.end)];
    return [start, subtract(end.at, start.at)];
  }
}
