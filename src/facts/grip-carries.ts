import { Kept } from '../base/kept.js';
import { compareText, rounded } from '../base/order.js';
import { movedDisturbance } from '../mechanics/moved-system.js';
import { surelyCarried } from '../mechanics/pads-carry.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Pose } from '../geometry/pose.js';
import { place, rotate, transpose } from '../geometry/pose.js';
import { along, cross, dot, scale, subtract, unit, type Vec3 } from '../geometry/vector.js';
import { faceThickness } from '../model/face-thickness.js';
import { gripFlange, padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { LinearPrograms } from '../algorithms/linear-program.js';
import { hangingSystem } from '../rules/assembly.js';
import {
  carriedHome,
  governingInertia,
  inertiaLoads,
  notCarried,
  type CarriedReserve,
} from '../rules/carried.js';
import type { Grip } from './grips.js';

const UP: Vec3 = [0, 0, 1];

/** Whether pads alone carry a part; poses that differ by a quarter turn about the vertical or a reflection share an answer. */
export class CarryingTest {
  private readonly answers: Kept<CarriedReserve | undefined>;

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly programs: LinearPrograms,
    keeping = true,
  ) {
    this.answers = new Kept(keeping);
  }

  /** The refusal when the part's weight or its inertia in a pose is not carried with the required reserve. */
  refusal(part: number, grip: Grip, pose: Pose): Refusal | undefined {
    const thickness = rounded(faceThickness(this.scene.parts[part]!.part.shape, grip.face), 6);
    const arranged = this.arrangement(part, grip, pose);
    const key = `${part} ${grip.robot.id} ${grip.gripper.id} ${thickness} ${arranged}`;
    const weakest = this.answers.get(key, () => this.weakest(part, grip, pose));
    if (weakest === undefined) return undefined;
    const gravity = weakest.case === 'gravity';
    // Of mirror images the ways of a stop are mirrored too, so that only its kind is told.
    const load = gravity ? 'gravity' : governingInertia(this.settings).name;
    return {
      code: gravity ? 'grip-slips' : 'grip-gives-way',
      subjects: [this.scene.parts[part]!.part.id, grip.gripper.id, grip.face, load],
      value: weakest.reserve,
      limit: weakest.required,
      unit: 'reserve',
    };
  }

  /** The same for the part on its way between the stations, the arm at its home. */
  homeRefusal(part: number, grip: Grip): Refusal | undefined {
    return this.refusal(
      part,
      grip,
      carriedHome(this.scene, { part, grip, gripper: grip.gripper, robot: grip.robot }),
    );
  }

  /** Where pads and flange are about the centre of mass, seen along their own direction and up; equal for mirror images. */
  private arrangement(part: number, grip: Grip, pose: Pose): string {
    const { own, part: given } = this.scene.parts[part]!;
    const { shape } = given;
    const centre = place(pose, own.centre);
    const { pads, into } = padsInCell(shape, pose, grip, grip.gripper);
    const centres = pads.map(({ at }) => at);
    const offsets = centres.map((pad) => subtract(pad, centre));
    // Of a group of pads, or of pads that are not even, the flange is not over the middle.
    const flange = subtract(gripFlange(shape, pose, grip, grip.gripper).at, centre);
    const level = [into, subtract(centres[0]!, centres.at(-1)!), offsets[0]!, [1, 0, 0] as Vec3]
      .map((v): Vec3 => [v[0], v[1], 0])
      .find((v) => dot(v, v) > 1e-6)!;
    const ahead = unit(level);
    const aside = cross(UP, ahead);
    const seen = (sign: number): string => {
      const told = (v: Vec3): string =>
        [dot(v, ahead), sign * dot(v, aside), v[2]].map((x) => rounded(x, 3)).join(',');
      return [told(flange), ...offsets.map(told).sort(compareText)].join(' ');
    };
    return `${rounded(into[2], 6)} ${this.fromAxes(ahead)} ${[seen(1), seen(-1)].sort(compareText)[0]!}`;
  }

  /** Degrees from the nearest axis of the weldment frame, in which the limits of a hold are a box. */
  private fromAxes(ahead: Vec3): number {
    const [x, y] = rotate(transpose(this.scene.cell.weldmentPose.turn), ahead);
    const degrees = (Math.atan2(Math.abs(y), Math.abs(x)) * 180) / Math.PI;
    return rounded(Math.min(degrees, 90 - degrees), 3);
  }

  /** The weakest reserve where it is too small; undefined where every load is carried as often as it must be. */
  private weakest(part: number, grip: Grip, pose: Pose): CarriedReserve | undefined {
    const held = { part, grip, gripper: grip.gripper, robot: grip.robot };
    const { scene, settings } = this;
    const { system, frame } = hangingSystem(scene, held, pose, settings);
    const { mass, centre } = system.bodies[0]!;
    const weight: Vec3 = [0, 0, -mass * STANDARD_GRAVITY];
    const { required } = governingInertia(settings);
    const together = inertiaLoads(scene, held, pose, settings).map((load) =>
      along(weight, movedDisturbance(load, frame).forces[0]!.force, required),
    );
    const sure = [scale(weight, settings.reserves.gravity), ...together].every((force) =>
      surelyCarried(system.pads, system.holds[0]!, force, centre),
    );
    return sure ? undefined : notCarried(this.programs, scene, held, pose, settings);
  }
}
