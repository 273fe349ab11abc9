import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { snap } from '../base/order.js';
import { compose, inverse, multiply, rotate, translate, turnAbout, type Pose } from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate, scale, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { reach } from '../kinematics/reach.js';
import { eachStrokes, strokes, type StrokeMiss, type Strokes } from '../kinematics/strokes.js';
import type { Gripper, Handler } from '../model/cell.js';
import { gripFlange, gripperSolid, padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { outOfOpening, stationOf } from '../model/stations.js';
import type { Refusal } from '../model/verdict.js';
import type { Approach } from './approaches.js';
import type { Grip } from './grips.js';
import { reachRefusal } from './reach-refusal.js';
import type { Spot } from './spots.js';

/** A motion of an arm at a grip: the flange on the part, the far ends of its two strokes, and what it carries then. */
export interface GripStrokes {
  readonly part: number;
  readonly grip: Grip;
  readonly where: string;
  readonly flange: Pose;
  readonly ends: readonly [Pose, Pose];
  readonly carries: 'in' | 'out' | 'nothing';
  /** Whether the part stands in its final place when the arm comes, and when it goes. */
  readonly inPlace: readonly [boolean, boolean];
}

const UP: Vec3 = [0, 0, 1];

/** Where one handling arm must bring its flange for the grips of a part, and whether its joints get there at all. */
export class GripReach {
  private readonly toBase: Pose;
  private readonly distance: number;
  private readonly tolerance: number;

  constructor(
    private readonly scene: Scene,
    readonly robot: Handler,
    settings: Settings,
  ) {
    this.toBase = inverse(robot.base);
    this.distance = settings.motion['approach-distance'];
    this.tolerance = settings.motion['touch-tolerance'];
  }

  /** Taking the part from where it lies: down onto it along the grip, up with it. */
  take(part: number, grip: Grip, spot: Spot): Result<GripStrokes, Refusal> {
    return this.atStation(part, grip, spot, 'out');
  }

  /** Setting the part down where it shall lie: down with it, away along the grip. */
  setDown(part: number, grip: Grip, spot: Spot): Result<GripStrokes, Refusal> {
    return this.atStation(part, grip, spot, 'in');
  }

  /** Bringing the part to its final place along an approach, and leaving it along the grip. */
  place(part: number, grip: Grip, approach: Approach): GripStrokes {
    const flange = this.flange(part, grip, this.scene.parts[part]!.pose);
    const from = translate(flange, scale(approach.direction, -approach.distance));
    const ends = [from, this.drawnBack(flange)] as const;
    return { part, grip, where: 'place', flange, ends, carries: 'in', inPlace: [false, true] };
  }

  /** Taking hold of a part in its final place, along the grip both ways. */
  hold(part: number, grip: Grip): GripStrokes {
    const flange = this.flange(part, grip, this.scene.parts[part]!.pose);
    const back = this.drawnBack(flange);
    return {
      part,
      grip,
      where: 'place',
      flange,
      ends: [back, back],
      carries: 'nothing',
      inPlace: [true, true],
    };
  }

  /** The strokes branch by branch, as the arm can follow them, or why it cannot; whatever stands in the way. */
  *follow(asked: GripStrokes): Generator<Result<Strokes, Refusal>> {
    const { flange, ends } = this.local(asked);
    for (const found of eachStrokes(this.robot.arm, flange, ends)) yield this.told(asked, found);
  }

  /** The first branch that can follow the strokes, or the first reason against one. */
  followed(asked: GripStrokes): Result<Strokes, Refusal> {
    const { flange, ends } = this.local(asked);
    return this.told(asked, strokes(this.robot.arm, flange, ends));
  }

  private local({ flange, ends }: GripStrokes): { readonly flange: Pose; readonly ends: readonly Pose[] } {
    const inBase = (pose: Pose): Pose => compose(this.toBase, pose);
    const first = inBase(ends[0]);
    return { flange: inBase(flange), ends: [first, ends[1] === ends[0] ? first : inBase(ends[1])] };
  }

  private told(
    { part, where, grip }: GripStrokes,
    found: Result<Strokes, StrokeMiss>,
  ): Result<Strokes, Refusal> {
    if (found.ok) return found;
    const subjects = [this.scene.parts[part]!.part.id, this.robot.id, where, grip.face];
    return fail(reachRefusal(found.error, subjects));
  }

  /** Postures over a gripper's stand, flange straight down, turned by quarters about the vertical. */
  overStand(gripper: Gripper): readonly Joints[] {
    const { base, arm } = this.robot;
    return [0, 1, 2, 3].flatMap((quarter) => {
      const turn = multiply(
        base.turn,
        multiply(turnAbout(UP, (quarter * Math.PI) / 2), turnAbout([1, 0, 0], Math.PI)),
      );
      const found = reach(arm, compose(this.toBase, { at: gripper.stand, turn }));
      return found.ok ? found.value.map(({ joints }) => joints) : [];
    });
  }

  private flange(part: number, grip: Grip, pose: Pose): Pose {
    return gripFlange(this.scene.parts[part]!.part.shape, pose, grip, grip.gripper);
  }

  private drawnBack(flange: Pose): Pose {
    return translate(flange, rotate(flange.turn, scale(UP, -this.distance)));
  }

  private atStation(
    part: number,
    grip: Grip,
    spot: Spot,
    carries: 'in' | 'out',
  ): Result<GripStrokes, Refusal> {
    const blocked = this.belowStation(part, grip, spot) ?? this.blockedAtStation(part, grip, spot);
    if (blocked) return fail(blocked);
    const flange = this.flange(part, grip, spot.pose);
    const [back, up] = [this.drawnBack(flange), translate(flange, scale(UP, this.distance))];
    const ends = carries === 'out' ? ([back, up] as const) : ([up, back] as const);
    return ok({ part, grip, where: spot.station, flange, ends, carries, inPlace: [false, false] });
  }

  /** A keep-out or the work table in the way of the gripper drawn back, or of part and gripper lifted. */
  private blockedAtStation(part: number, grip: Grip, spot: Spot): Refusal | undefined {
    const { own, part: given } = this.scene.parts[part]!;
    const { shape, id } = given;
    const gripper = gripperSolid(shape, spot.pose, grip, grip.gripper);
    const away = negate(padsInCell(shape, spot.pose, grip, grip.gripper).into);
    const meets = (solid: Solid): boolean =>
      sweepHits(gripper, away, this.distance, solid, this.tolerance) ||
      [gripper, placeSolid(own, spot.pose)].some((moving) =>
        sweepHits(moving, UP, this.distance, solid, this.tolerance),
      );
    if (![this.scene.table, ...this.scene.keepOuts].some(meets)) return undefined;
    return { code: 'station-blocked', subjects: [id, grip.gripper.id, spot.station, grip.face] };
  }

  private belowStation(part: number, grip: Grip, spot: Spot): Refusal | undefined {
    const { cell } = this.scene;
    const { shape, id } = this.scene.parts[part]!.part;
    const top = stationOf(cell, spot.station)!.pose.at[2];
    const gripper = gripperSolid(shape, spot.pose, grip, grip.gripper);
    const lowest = gripper.bounds.low[2];
    if (snap(lowest - top, 1e-6) >= 0) return undefined;
    const { twoSided } = cell;
    if (spot.station === 'two-sided' && snap(outOfOpening(twoSided!, gripper), 1e-6) <= 0) return undefined;
    return {
      code: 'gripper-below-station',
      subjects: [id, grip.gripper.id, spot.station, grip.face],
      value: top - lowest,
      limit: 0,
      unit: 'mm',
    };
  }
}
