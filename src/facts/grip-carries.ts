import { compareText, rounded } from '../base/order.js';
import { judge } from '../mechanics/equilibrium.js';
import { surelyCarried } from '../mechanics/pads-carry.js';
import { STANDARD_GRAVITY } from '../mechanics/system.js';
import type { Pose } from '../geometry/pose.js';
import { place, rotate, transpose } from '../geometry/pose.js';
import { cross, dot, subtract, unit, type Vec3 } from '../geometry/vector.js';
import { padsInCell } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { LinearPrograms } from '../algorithms/linear-program.js';
import { hangingSystem } from '../rules/assembly.js';
import type { Grip } from './grips.js';

const UP: Vec3 = [0, 0, 1];

/** Whether pads alone carry a part; poses that differ by a quarter turn about the vertical or a reflection share an answer. */
export class CarryingTest {
  private readonly reserves = new Map<string, number>();

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly programs: LinearPrograms,
  ) {}

  /** The refusal when the part's weight in a pose is not carried with the required reserve. */
  refusal(part: number, grip: Grip, pose: Pose): Refusal | undefined {
    const key = `${part} ${grip.robot.id} ${grip.gripper.id} ${this.arrangement(part, grip, pose)}`;
    let reserve = this.reserves.get(key);
    if (reserve === undefined) {
      reserve = this.reserve(part, grip, pose);
      this.reserves.set(key, reserve);
    }
    const required = this.settings.reserves.gravity;
    if (reserve >= required) return undefined;
    return {
      code: 'grip-slips',
      subjects: [this.scene.parts[part]!.part.id, grip.gripper.id, grip.face],
      value: reserve,
      limit: required,
      unit: 'reserve',
    };
  }

  /** Where the pads are about the centre of mass, seen along their own direction and up; equal for mirror images. */
  private arrangement(part: number, grip: Grip, pose: Pose): string {
    const { own, part: given } = this.scene.parts[part]!;
    const { shape } = given;
    const centre = place(pose, own.centre);
    const { centres, into } = padsInCell(shape, pose, grip, grip.gripper);
    const offsets = centres.map((pad) => subtract(pad, centre));
    const level = [into, subtract(centres[0]!, centres.at(-1)!), offsets[0]!, [1, 0, 0] as Vec3]
      .map((v): Vec3 => [v[0], v[1], 0])
      .find((v) => dot(v, v) > 1e-6)!;
    const ahead = unit(level);
    const aside = cross(UP, ahead);
    const seen = (sign: number): string =>
      offsets
        .map((v) => [dot(v, ahead), sign * dot(v, aside), v[2]].map((x) => rounded(x, 3)).join(','))
        .sort(compareText)
        .join(' ');
    return `${rounded(into[2], 6)} ${this.fromAxes(ahead)} ${[seen(1), seen(-1)].sort(compareText)[0]!}`;
  }

  /** Degrees from the nearest axis of the weldment frame, in which the limits of a hold are a box. */
  private fromAxes(ahead: Vec3): number {
    const [x, y] = rotate(transpose(this.scene.cell.weldmentPose.turn), ahead);
    const degrees = (Math.atan2(Math.abs(y), Math.abs(x)) * 180) / Math.PI;
    return rounded(Math.min(degrees, 90 - degrees), 3);
  }

  /** The reserve under the part's weight; where it is surely enough, no more than that is said. */
  private reserve(part: number, grip: Grip, pose: Pose): number {
    const held = { part, grip, gripper: grip.gripper, robot: grip.robot };
    const system = hangingSystem(this.scene, held, pose, this.settings);
    const required = this.settings.reserves.gravity;
    const { mass, centre } = system.bodies[0]!;
    const weight: Vec3 = [0, 0, -required * mass * STANDARD_GRAVITY];
    if (surelyCarried(system.pads, system.holds[0]!, weight, centre)) return required;
    return judge(this.programs, system, []).gravity.reserve;
  }
}
