import { setOf, type PartSet } from '../base/part-set.js';
import { placePiece, type ConvexPiece } from '../geometry/convex.js';
import { NO_TURN, type Pose } from '../geometry/pose.js';
import { hullOfPiece } from '../geometry/rounded-hull.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { pieceSweepHits } from '../geometry/sweep.js';
import { length, unit, type Vec3 } from '../geometry/vector.js';
import { linkCount, type ArmBody, type ToolPiece } from '../kinematics/arm-body.js';
import { elementsAt } from '../kinematics/arm-sample.js';
import { keysMet, type Clearance, type Obstacle } from '../kinematics/clear-path.js';
import type { Joints } from '../kinematics/arm.js';
import { robotsOf, type Gripper, type Handler, type Torch, type Welder } from '../model/cell.js';
import { envelopeOf } from '../model/gripper-solid.js';
import { stationSolids, wholeTorch } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';

/** What an arm meets somewhere on its way: parts by their index, and the first of the things that never move. */
export interface ArmHits {
  readonly parts: PartSet;
  /** What it is called; undefined when none is met. */
  readonly fixed: string | undefined;
}

/** An arm as it takes up room with something fixed to its flange. */
export const armBody = ({ base, arm, radii }: Handler | Welder, load: Load): ArmBody => ({
  base,
  arm,
  radii,
  tool: toolOf(load),
});

const LINK = 0;
const LOAD = 1;

/** A link of another arm, or what is fixed to its flange. */
export interface ArmObstacle extends Obstacle {
  readonly key: typeof LINK | typeof LOAD;
}

/** An arm that stands still, with what is fixed to its flange. */
export type StandingArm = readonly ArmObstacle[];

/** No part. */
const NONE = -1;

/** The column of an arm stands where it stands, beside whatever is fixed there. */
const COLUMN = 0;

interface SolidObstacle extends Obstacle {
  readonly piece: ConvexPiece;
}

const obstaclesOf = ({ pieces }: Solid, key: number): readonly SolidObstacle[] =>
  pieces.map((piece) => ({ hull: hullOfPiece(piece), key, piece }));

/** What is fixed to a flange, piece by piece in the flange frame. */
export type Load = readonly ConvexPiece[];

/** The envelope of a gripper that holds nothing, in the flange frame. */
export const gripperAlone = (gripper: Gripper): Load =>
  placeSolid(envelopeOf(gripper), { at: [0, 0, gripper.reach], turn: NO_TURN }).pieces;

const TORCH_LOADS = new WeakMap<Torch, Load>();

/** The torch of a welding robot, in the flange frame. */
export function torchLoad({ torch }: Welder): Load {
  let load = TORCH_LOADS.get(torch);
  if (!load) TORCH_LOADS.set(torch, (load = wholeTorch(torch.tip, torch)));
  return load;
}

const TOOLS = new WeakMap<Load, readonly ToolPiece[]>();

function toolOf(load: Load): readonly ToolPiece[] {
  let tool = TOOLS.get(load);
  if (!tool) TOOLS.set(load, (tool = load.map(({ vertices }) => ({ name: 'tool', points: vertices }))));
  return tool;
}

/**
 * What one arm must keep clear of in the cell: the parts in their final places, and what is fixed: tables, keep-outs and
 * the other arms as they stand at home. A handling arm at home is taken with the envelopes of all grippers.
 */
export class ArmRoom {
  /** Named by negative keys: -1 is the first. */
  private readonly fixedNames: string[] = [];
  private readonly parts: readonly SolidObstacle[];
  private readonly fixed: readonly SolidObstacle[];
  /** Other arms: links, and what is fixed to their flanges. */
  private readonly arms: readonly Obstacle[];
  private readonly bodies = new WeakMap<Load, ArmBody>();
  /** By the part that is not looked at, NONE first. */
  private readonly clearances: Clearance[] = [];
  private readonly besideArms = {
    all: new WeakMap<StandingArm, Clearance>(),
    'not loads': new WeakMap<StandingArm, Clearance>(),
  };

  constructor(
    private readonly scene: Scene,
    readonly robot: Handler | Welder,
    private readonly settings: Settings,
  ) {
    const { cell, table, keepOuts, parts } = scene;
    this.parts = parts.flatMap(({ solid }, i) => obstaclesOf(solid, i));
    const others = robotsOf(cell).filter((other) => other.id !== robot.id);
    this.fixed = [
      ...obstaclesOf(table, this.keyOf('the work table')),
      ...keepOuts.flatMap((solid, i) => obstaclesOf(solid, this.keyOf(`keep-out ${i + 1}`))),
      ...stationSolids(cell).flatMap((solid) => obstaclesOf(solid, this.keyOf('a station'))),
    ];
    this.arms = others.flatMap((other) => this.atHome(other));
  }

  /**
   * What the arm with its load meets in joint moves through the samples of a way. `except` is a part that is not looked
   * at: the one that it carries, takes or leaves.
   */
  hits(load: Load, way: readonly Joints[], except = NONE): ArmHits {
    const clearance = (this.clearances[except + 1] ??= this.clearanceFrom(except));
    return this.named(keysMet(this.body(load), way, clearance));
  }

  private clearanceFrom(except: number): Clearance {
    const parts = this.parts.filter(({ key }) => key !== except);
    const arms = new Set(this.arms.map(({ key }) => key));
    return {
      obstacles: [...this.fixed, ...this.arms, ...parts],
      least: this.settings.motion.clearance,
      counts: (element, { key }) => element !== COLUMN || key >= 0 || arms.has(key),
      fatal: (key) => key < 0,
    };
  }

  /** What a load meets that is moved straight from where it is, its flange at `flange` in the cell. */
  sweepHits(load: Load, flange: Pose, way: Vec3, except = NONE): ArmHits {
    const travel = length(way);
    const tolerance = this.settings.motion['touch-tolerance'];
    const moving = load.map((piece) => placePiece(piece, flange));
    const direction = unit(way);
    const met = new Set<number>();
    for (const { key, piece } of [...this.fixed, ...this.parts])
      if (
        key !== except &&
        !met.has(key) &&
        moving.some((one) => pieceSweepHits(one, direction, travel, piece, tolerance))
      )
        met.add(key);
    return this.named(met);
  }

  private named(met: ReadonlySet<number>): ArmHits {
    const fixed = [...met].find((key) => key < 0);
    return {
      parts: setOf(
        this.scene.parts.length,
        [...met].filter((key) => key >= 0),
      ),
      fixed: fixed === undefined ? undefined : this.fixedNames[-fixed - 1],
    };
  }

  /** The arm as it stands still with a load, for other arms to keep clear of. */
  standing(load: Load, joints: Joints): StandingArm {
    const links = linkCount(this.robot);
    return elementsAt(this.body(load), joints).map(({ hull }, i) => ({ hull, key: i < links ? LINK : LOAD }));
  }

  /**
   * Whether the arm with its load comes too near to another one that stands still, in joint moves through the samples of a
   * way: of all pairs, or of all but load and load, where these are judged in another way.
   */
  meets(load: Load, way: readonly Joints[], other: StandingArm, pairs: 'all' | 'not loads'): boolean {
    return keysMet(this.body(load), way, this.clearanceFromArm(other, pairs)).size > 0;
  }

  private clearanceFromArm(other: StandingArm, pairs: 'all' | 'not loads'): Clearance {
    let known = this.besideArms[pairs].get(other);
    if (!known) {
      const links = linkCount(this.robot);
      known = {
        obstacles: other,
        least: this.settings.motion.clearance,
        counts: (element, { key }) => pairs === 'all' || element < links || key === LINK,
        fatal: () => true,
      };
      this.besideArms[pairs].set(other, known);
    }
    return known;
  }

  private body(load: Load): ArmBody {
    let body = this.bodies.get(load);
    if (!body) this.bodies.set(load, (body = armBody(this.robot, load)));
    return body;
  }

  private keyOf(name: string): number {
    this.fixedNames.push(name);
    return -this.fixedNames.length;
  }

  private atHome(other: Handler | Welder): readonly Obstacle[] {
    const load =
      other.duty === 'weld'
        ? torchLoad(other)
        : this.scene.cell.grippers.flatMap((gripper) => gripperAlone(gripper));
    const key = this.keyOf(`${other.id} at home`);
    return elementsAt(armBody(other, load), other.home).map(({ hull }) => ({ hull, key }));
  }
}
