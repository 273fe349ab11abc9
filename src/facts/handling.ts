import type { Result } from '../base/result.js';
import { fail, ok } from '../base/result.js';
import { snap } from '../base/order.js';
import { compose, inverse, multiply, rotate, translate, turnAbout, type Pose } from '../geometry/pose.js';
import { scale, type Vec3 } from '../geometry/vector.js';
import type { Joints } from '../kinematics/arm.js';
import { reach } from '../kinematics/reach.js';
import { strokes } from '../kinematics/strokes.js';
import { gripFlange, gripperSolid, lyingPose } from '../model/placement.js';
import type { Gripper } from '../model/cell.js';
import type { OuterFace } from '../model/scalars.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Shape } from '../model/weldment.js';
import type { Approach } from './approaches.js';
import type { Grip } from './grips.js';
import { reachRefusal } from './reach-refusal.js';

/** Where and how a part lies at a station. */
export interface Spot {
  readonly station: 'infeed' | 'regrip';
  readonly face: OuterFace;
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
export const infeedSpot = (scene: Scene, shape: Shape, face: OuterFace): Spot => ({
  station: 'infeed',
  face,
  pose: lyingPose(shape, face, scene.cell.infeed.pose, 0),
});

export const regripSpots = (scene: Scene, shape: Shape, face: OuterFace): readonly Spot[] =>
  [0, 1, 2, 3].map((quarter) => ({
    station: 'regrip',
    face,
    pose: lyingPose(shape, face, scene.cell.regrip.pose, (quarter * Math.PI) / 2),
  }));

/** Moves of the handling arm for one part, judged on demand. `subjects` name them in refusals. */
export class HandlingReach {
  private readonly toBase: Pose;
  private readonly distance: number;

  constructor(
    private readonly scene: Scene,
    settings: Settings,
  ) {
    this.toBase = inverse(scene.cell.handler.base);
    this.distance = settings.motion['approach-distance'];
  }

  /** Taking the part from where it lies: down onto it along the grip, up with it. */
  take(part: number, grip: Grip, spot: Spot): Result<GripMotion, Refusal> {
    const blocked = this.belowStation(part, grip, spot);
    if (blocked) return fail(blocked);
    const flange = this.flange(part, grip, spot.pose);
    return this.motion(part, grip, spot.station, flange, [
      this.drawnBack(flange),
      translate(flange, scale(UP, this.distance)),
    ]);
  }

  /** Setting the part down where it shall lie: down with it, away along the grip. */
  setDown(part: number, grip: Grip, spot: Spot): Result<GripMotion, Refusal> {
    const blocked = this.belowStation(part, grip, spot);
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

  /** The first of four turns about the vertical in which the arm can stand over a gripper's stand, flange down. */
  stand(gripper: Gripper): Joints | undefined {
    const { handler } = this.scene.cell;
    for (const quarter of [0, 1, 2, 3]) {
      const turn = multiply(
        handler.base.turn,
        multiply(turnAbout(UP, (quarter * Math.PI) / 2), turnAbout([1, 0, 0], Math.PI)),
      );
      const found = reach(handler.arm, compose(this.toBase, { at: gripper.stand, turn }));
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
    const { handler } = this.scene.cell;
    const local = (pose: Pose): Pose => compose(this.toBase, pose);
    const found = strokes(handler.arm, local(flange), ends.map(local));
    if (!found.ok)
      return fail(reachRefusal(found.error, [this.scene.parts[part]!.part.id, handler.id, where, grip.face]));
    return ok({ joints: found.value.joints, approach: found.value.ends[0]!, leave: found.value.ends[1]! });
  }

  private belowStation(part: number, grip: Grip, spot: Spot): Refusal | undefined {
    const { cell } = this.scene;
    const { shape, id } = this.scene.parts[part]!.part;
    const top = (spot.station === 'infeed' ? cell.infeed.pose : cell.regrip.pose).at[2];
    const lowest = gripperSolid(shape, spot.pose, grip, grip.gripper).bounds.low[2];
    if (snap(lowest - top, 1e-6) >= 0) return undefined;
    return {
      code: 'gripper-below-station',
      subjects: [id, grip.gripper.id, spot.station, grip.face],
      value: top - lowest,
      limit: 0,
      unit: 'mm',
    };
  }
}
