import { emptySet, setOf, type PartSet } from '../base/part-set.js';
import { placePiece, type ConvexPiece } from '../geometry/convex.js';
import { NO_TURN, type Pose } from '../geometry/pose.js';
import { hullOfPiece } from '../geometry/rounded-hull.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import { pieceSweepHits } from '../geometry/sweep.js';
import { length, unit, type Vec3 } from '../geometry/vector.js';
import { linkCount, type ArmBody, type ToolPiece } from '../kinematics/arm-body.js';
import { elementsAt } from '../kinematics/arm-sample.js';
import { keysMet, type KeyTest, type Obstacle, type PairTest } from '../kinematics/clear-path.js';
import type { Joints } from '../kinematics/arm.js';
import { robotsOf, type Gripper, type Handler, type Torch, type Welder } from '../model/cell.js';
import { envelopeOf } from '../model/gripper-solid.js';
import { stationSolids, wholeTorch } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import { WaysOut } from './ways-out.js';

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

/** Which things are asked about by their keys, and which of them end the question when they are met. */
export interface KeysAsked {
  readonly among: KeyTest;
  readonly fatal: KeyTest;
}

const allBut = (except: number | undefined): KeysAsked => ({
  among: (key) => key !== except,
  fatal: (key) => key < 0,
});

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
  /** What is fixed, and then the parts. */
  private readonly solids: readonly SolidObstacle[];
  /** The same with other arms between them: links, and what is fixed to their flanges. */
  private readonly obstacles: readonly Obstacle[];
  private readonly counts: PairTest;
  /** Pairs with another arm: all, or all but load and load. */
  private readonly besideArm: { readonly all: PairTest; readonly 'not loads': PairTest };
  private readonly bodies = new WeakMap<Load, ArmBody>();
  /** The set of no part of the weldment. */
  readonly noParts: PartSet;
  readonly waysOut: WaysOut;

  constructor(
    private readonly scene: Scene,
    readonly robot: Handler | Welder,
    private readonly settings: Settings,
  ) {
    const { cell, table, keepOuts, parts } = scene;
    this.noParts = emptySet(parts.length);
    this.waysOut = new WaysOut(robot);
    const fixed = [
      ...obstaclesOf(table, this.keyOf('the work table')),
      ...keepOuts.flatMap((solid, i) => obstaclesOf(solid, this.keyOf(`keep-out ${i + 1}`))),
      ...stationSolids(cell).flatMap((solid) => obstaclesOf(solid, this.keyOf('a station'))),
    ];
    const others = robotsOf(cell).filter((other) => other.id !== robot.id);
    const arms = others.flatMap((other) => this.atHome(other));
    const last = parts.flatMap(({ solid }, i) => obstaclesOf(solid, i));
    this.solids = [...fixed, ...last];
    this.obstacles = [...fixed, ...arms, ...last];
    const armKeys = new Set(arms.map(({ key }) => key));
    this.counts = (element, { key }) => element !== COLUMN || key >= 0 || armKeys.has(key);
    const links = linkCount(robot);
    this.besideArm = {
      all: () => true,
      'not loads': (element, { key }) => element < links || key === LINK,
    };
  }

  /**
   * What the arm with its load meets in joint moves through the samples of a way. `except` is a part that is not looked
   * at: the one that it carries, takes or leaves.
   */
  hits(load: Load, way: readonly Joints[], except?: number): ArmHits {
    return this.named(this.met(load, way, allBut(except)));
  }

  /** The keys of what it meets there as far as it is asked: parts by their index, what is fixed by negative numbers. */
  met(load: Load, way: readonly Joints[], asked: KeysAsked): ReadonlySet<number> {
    const { obstacles, counts } = this;
    return keysMet(this.body(load), way, {
      obstacles,
      counts,
      least: this.settings.motion.clearance,
      ...asked,
    });
  }

  /** What a load meets that is moved straight from where it is, its flange at `flange` in the cell. */
  sweepHits(load: Load, flange: Pose, way: Vec3, except?: number): ArmHits {
    return this.named(this.swept(load, flange, way, allBut(except)));
  }

  /** The keys of what it meets there as far as it is asked. */
  swept(load: Load, flange: Pose, way: Vec3, { among, fatal }: KeysAsked): ReadonlySet<number> {
    const travel = length(way);
    const tolerance = this.settings.motion['touch-tolerance'];
    const moving = load.map((piece) => placePiece(piece, flange));
    const direction = unit(way);
    const met = new Set<number>();
    for (const { key, piece } of this.solids) {
      if (met.has(key) || !among(key)) continue;
      if (!moving.some((one) => pieceSweepHits(one, direction, travel, piece, tolerance))) continue;
      met.add(key);
      if (fatal(key)) break;
    }
    return met;
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
    const asked = {
      obstacles: other,
      counts: this.besideArm[pairs],
      least: this.settings.motion.clearance,
      fatal: () => true,
    };
    return keysMet(this.body(load), way, asked).size > 0;
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
