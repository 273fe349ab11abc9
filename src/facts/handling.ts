import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { snap } from '../base/order.js';
import {
  IDENTITY,
  compose,
  inverse,
  multiply,
  rotate,
  translate,
  turnAbout,
  type Pose,
} from '../geometry/pose.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate, scale, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { reach } from '../kinematics/reach.js';
import { strokes } from '../kinematics/strokes.js';
import { shapeSolid } from '../model/part-geometry.js';
import { gripFlange, gripperSolid, lyingPose, padsInCell } from '../model/placement.js';
import type { Gripper, Handler } from '../model/cell.js';
import { lyingOverOpening, outOfOpening, stationOf, type StationName } from '../model/stations.js';
import type { FaceName } from '../model/scalars.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Shape } from '../model/shape.js';
import type { Approach } from './approaches.js';
import type { Grip } from './grips.js';
import { reachRefusal } from './reach-refusal.js';

/** Where and how a part lies at a station. */
export interface Spot {
  readonly station: StationName;
  readonly face: FaceName;
  /** Pose of the part in the cell. */
  readonly pose: Pose;
}

/** Joints of the handling arm at a grip and at the far ends of its two strokes. */
export interface GripMotion {
  readonly joints: Joints;
  /** Where the stroke onto the part, or with the part, begins. */
  readonly approach: Joints;
  /** Where the lift or the retreat ends. */
  readonly leave: Joints;
}

const UP: Vec3 = [0, 0, 1];

/** The way a part lies at the infeed and every way it could lie on the regrip table. */
export const infeedSpot = (scene: Scene, shape: Shape, face: FaceName): Spot => ({
  station: 'infeed',
  face,
  pose: lyingPose(shape, face, scene.cell.infeed.pose, 0),
});

/** Every way a part could lie on the regrip table, turned by quarters, without hanging over its edge. */
export function regripSpots(scene: Scene, shape: Shape, face: FaceName): readonly Spot[] {
  const { pose: station, size } = scene.cell.regrip;
  return [0, 1, 2, 3].flatMap((quarter): Spot[] => {
    const yaw = (quarter * Math.PI) / 2;
    const { low, high } = placeSolid(shapeSolid(shape), lyingPose(shape, face, IDENTITY, yaw)).bounds;
    const over = [0, 1].some(
      (axis) => snap(high[axis as 0 | 1] - low[axis as 0 | 1] - size[axis as 0 | 1], 1e-6) > 0,
    );
    return over ? [] : [{ station: 'regrip', face, pose: lyingPose(shape, face, station, yaw) }];
  });
}

/** Every way a part could lie over the opening of the two-sided stand, turned by quarters. */
export function standSpots(scene: Scene, shape: Shape, face: FaceName): readonly Spot[] {
  const stand = scene.cell.twoSided;
  if (stand === undefined) return [];
  return [0, 1, 2, 3].flatMap((quarter): Spot[] => {
    const pose = lyingPose(shape, face, stand.pose, (quarter * Math.PI) / 2);
    const { rim, over } = lyingOverOpening(stand, placeSolid(shapeSolid(shape), pose));
    const bridges = snap(rim - stand.overlap, 1e-6) >= 0 && snap(over, 1e-6) <= 0;
    return bridges ? [{ station: 'two-sided', face, pose }] : [];
  });
}

/** Moves of one handling arm, judged on demand. `subjects` name them in refusals. */
export class HandlingReach {
  private readonly toBase: Pose;
  private readonly distance: number;
  private readonly tolerance: number;

  constructor(
    private readonly scene: Scene,
    private readonly robot: Handler,
    settings: Settings,
  ) {
    this.toBase = inverse(robot.base);
    this.distance = settings.motion['approach-distance'];
    this.tolerance = settings.motion['touch-tolerance'];
  }

  /** Taking the part from where it lies: down onto it along the grip, up with it. */
  take(part: number, grip: Grip, spot: Spot): Result<GripMotion, Refusal> {
    const blocked = this.belowStation(part, grip, spot) ?? this.blockedAtStation(part, grip, spot);
    if (blocked) return fail(blocked);
    const flange = this.flange(part, grip, spot.pose);
    return this.motion(part, grip, spot.station, flange, [
      this.drawnBack(flange),
      translate(flange, scale(UP, this.distance)),
    ]);
  }

  /** Setting the part down where it shall lie: down with it, away along the grip. */
  setDown(part: number, grip: Grip, spot: Spot): Result<GripMotion, Refusal> {
    const blocked = this.belowStation(part, grip, spot) ?? this.blockedAtStation(part, grip, spot);
    if (blocked) return fail(blocked);
    const flange = this.flange(part, grip, spot.pose);
    return this.motion(part, grip, spot.station, flange, [
      translate(flange, scale(UP, this.distance)),
      this.drawnBack(flange),
    ]);
  }

  /** Bringing the part to its final place along an approach, and leaving it along the grip. */
  place(part: number, grip: Grip, approach: Approach): Result<GripMotion, Refusal> {
    const flange = this.flange(part, grip, this.scene.parts[part]!.pose);
    return this.motion(part, grip, 'place', flange, [
      translate(flange, scale(approach.direction, -approach.distance)),
      this.drawnBack(flange),
    ]);
  }

  /** Taking hold of a part in its final place, along the grip both ways. */
  hold(part: number, grip: Grip): Result<GripMotion, Refusal> {
    const flange = this.flange(part, grip, this.scene.parts[part]!.pose);
    const back = this.drawnBack(flange);
    return this.motion(part, grip, 'place', flange, [back, back]);
  }

  /** The first of four turns about the vertical in which the arm can stand over a gripper's stand, flange down. */
  stand(gripper: Gripper): Joints | undefined {
    const { base, arm } = this.robot;
    for (const quarter of [0, 1, 2, 3]) {
      const turn = multiply(
        base.turn,
        multiply(turnAbout(UP, (quarter * Math.PI) / 2), turnAbout([1, 0, 0], Math.PI)),
      );
      const found = reach(arm, compose(this.toBase, { at: gripper.stand, turn }));
      if (found.ok) return found.value[0]!.joints;
    }
    return undefined;
  }

  private flange(part: number, grip: Grip, pose: Pose): Pose {
    return gripFlange(this.scene.parts[part]!.part.shape, pose, grip, grip.gripper);
  }

  private drawnBack(flange: Pose): Pose {
    return translate(flange, rotate(flange.turn, scale(UP, -this.distance)));
  }

  private motion(
    part: number,
    grip: Grip,
    where: string,
    flange: Pose,
    ends: readonly [Pose, Pose],
  ): Result<GripMotion, Refusal> {
    const { id: name, arm } = this.robot;
    const local = (pose: Pose): Pose => compose(this.toBase, pose);
    const found = strokes(arm, local(flange), ends.map(local));
    if (!found.ok)
      return fail(reachRefusal(found.error, [this.scene.parts[part]!.part.id, name, where, grip.face]));
    return ok({ joints: found.value.joints, approach: found.value.ends[0]!, leave: found.value.ends[1]! });
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
