import { intersects, union, type PartSet } from '../base/part-set.js';
import { compose, type Pose } from '../geometry/pose.js';
import { subtract } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { forward } from '../kinematics/forward.js';
import { straightMoveTime, travelTime } from '../kinematics/travel.js';
import type { ArmHits, ArmRoom, Load, StandingArm } from './arm-room.js';

/** An arm with what is on its flange, and a part that it need not keep clear of: the one it carries. */
export interface Mover {
  readonly room: ArmRoom;
  readonly load: Load;
  readonly except: number | undefined;
}

/** What a leg meets, there and back alike: asked once. */
interface Answers {
  hits?: ArmHits;
  readonly arms: Map<StandingArm, boolean>;
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
    private readonly answers: Answers = { arms: new Map() },
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
    const { arm, straightSpeed, straightAcceleration } = this.mover.room.robot;
    const seconds =
      this.path === 'joint'
        ? travelTime(arm, this.start, this.end)
        : straightMoveTime(arm, this.way, this.millimetres, straightSpeed, straightAcceleration);
    return Math.round(1000 * seconds);
  }

  /** What it meets of all that may stand in the cell. */
  get hits(): ArmHits {
    return (this.answers.hits ??= this.path === 'joint' ? this.jointHits() : this.straightHits());
  }

  isClearOf(present: PartSet): boolean {
    return this.hits.fixed === undefined && !intersects(this.hits.parts, present);
  }

  /** Whether links and load keep clear of an arm that stands still. */
  isClearOfArm(standing: StandingArm): boolean {
    const { arms } = this.answers;
    let clear = arms.get(standing);
    if (clear === undefined) {
      clear = !this.mover.room.meets(this.mover.load, this.way, standing, 'all');
      arms.set(standing, clear);
    }
    return clear;
  }

  private jointHits(): ArmHits {
    const { room, load, except } = this.mover;
    return room.hits(load, this.way, except);
  }

  /** Links by their distance; what is on the flange by its depth, since it may part from what it touched. */
  private straightHits(): ArmHits {
    const { room, load, except } = this.mover;
    const { base, arm } = room.robot;
    const flange = (joints: Joints): Pose => compose(base, forward(arm, joints));
    const [start, end] = [flange(this.start), flange(this.end)];
    const links = room.hits([], this.way, except);
    const swept = room.sweepHits(load, start, subtract(end.at, start.at), except);
    return { parts: union(links.parts, swept.parts), fixed: links.fixed ?? swept.fixed };
  }
}
