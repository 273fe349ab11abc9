import { Kept } from '../base/kept.js';
import type { Joints } from '../kinematics/arm.js';
import type { Welder } from '../model/cell.js';
import type { Scene } from '../model/scene.js';
import { cornersOn } from '../model/seam-relations.js';
import type { Settings } from '../model/settings.js';
import { ArmRoom, torchLoad, type StandingArm } from './arm-room.js';
import type { Joint, JointSeam } from './joints.js';
import { Routes } from './routes.js';
import { sitesOfSeam, type TackSite } from './tack-sites.js';
import { comingToTack, leavingTack, TorchMotions, type TorchMotion } from './torch-motion.js';

/** A welding robot with the room that its arm must keep clear in, and its motions by site. */
interface Torch {
  readonly welder: Welder;
  readonly room: ArmRoom;
  readonly motions: Map<TackSite, TorchMotions>;
}

/**
 * What the welding robots of a scene can do, as tables that are filled on demand. A robot is the first of the cell where
 * none is named.
 */
export class Welding {
  private readonly torches: ReadonlyMap<string, Torch>;
  private readonly siteTable = new Kept<readonly TackSite[]>();
  /** By the strokes of a motion or the posture of a candidate: whether it is clear of arms that stand still. */
  private readonly besideTable = new Map<readonly Joints[] | Joints, Map<StandingArm, boolean>>();
  private readonly tackRoutes = new Map<TorchMotion, Map<TorchMotion, Routes>>();

  constructor(
    private readonly scene: Scene,
    private readonly settings: Settings,
    private readonly joints: readonly Joint[],
  ) {
    this.torches = new Map(
      scene.cell.welders.map((welder) => [
        welder.id,
        { welder, room: new ArmRoom(scene, welder, settings), motions: new Map<TackSite, TorchMotions>() },
      ]),
    );
  }

  /** Robots with the same torch share the sites of a seam. */
  sites(joint: Joint, seam: JointSeam, tackLength: number, robot?: string): readonly TackSite[] {
    const { torch } = this.torch(robot).welder;
    return this.siteTable.get(`${seam.id} ${torch.id}`, () =>
      sitesOfSeam(this.scene, torch, joint, seam, tackLength, this.settings, this.cornersOf(seam)),
    );
  }

  private cornersOf(seam: JointSeam): readonly number[] {
    const others = this.joints.flatMap(({ seams }) => seams.filter((other) => other !== seam));
    return cornersOn(seam, others);
  }

  motions(site: TackSite, robot?: string): TorchMotions {
    const { welder, room, motions } = this.torch(robot);
    let known = motions.get(site);
    if (!known) motions.set(site, (known = new TorchMotions(this.scene, welder, this.settings, room, site)));
    return known;
  }

  strokesClear({ robot, strokes }: TorchMotion, other: StandingArm): boolean {
    return this.beside(strokes, other, () => this.clear(robot, strokes, other));
  }

  postureClear(robot: string, joints: Joints, other: StandingArm): boolean {
    return this.beside(joints, other, () => this.clear(robot, [joints], other));
  }

  private beside(way: readonly Joints[] | Joints, other: StandingArm, ask: () => boolean): boolean {
    let known = this.besideTable.get(way);
    if (!known) this.besideTable.set(way, (known = new Map()));
    let clear = known.get(other);
    if (clear === undefined) known.set(other, (clear = ask()));
    return clear;
  }

  betweenTacks(from: TorchMotion, to: TorchMotion): Routes {
    let known = this.tackRoutes.get(from);
    if (!known) this.tackRoutes.set(from, (known = new Map()));
    let routes = known.get(to);
    if (!routes) {
      const { room, welder } = this.torch(from.robot);
      known.set(to, (routes = new Routes(room, torchLoad(welder), leavingTack(from), comingToTack(to))));
    }
    return routes;
  }

  private clear(robot: string, way: readonly Joints[], other: StandingArm): boolean {
    const { room, welder } = this.torch(robot);
    return !room.meets(torchLoad(welder), way, other, 'not loads');
  }

  private torch(robot = this.scene.cell.welders[0]!.id): Torch {
    return this.torches.get(robot)!;
  }
}
