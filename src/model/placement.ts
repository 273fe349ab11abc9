import { frustumPiece, placePiece, type ConvexPiece } from '../geometry/convex.js';
import type { Arm } from '../kinematics/arm.js';
import {
  axisX,
  axisZ,
  compose,
  fromAxes,
  inverse,
  NO_TURN,
  place,
  rotate,
  turnAbout,
  type Pose,
} from '../geometry/pose.js';
import { block } from '../geometry/shapes.js';
import { placeSolid, type Solid } from '../geometry/solid.js';
import {
  along,
  cross,
  length,
  negate,
  perpendicular,
  subtract,
  unit,
  type Vec3,
} from '../geometry/vector.js';
import type { Cell, Torch, TwoSidedStand } from './cell.js';
import { padsInUse, type Gripper } from './gripper.js';
import { envelopeOf, fingersOf, withFingers } from './gripper-solid.js';
import { fingerPadDepth, jawSpan } from './jaw-span.js';
import { faceFrame, shapeSolid } from './part-geometry.js';
import { restPose } from './part-rests.js';
import type { FaceName } from './scalars.js';
import type { Shape } from './shape.js';
import type { Part } from './weldment.js';

const UP: Vec3 = [0, 0, 1];

/**
 * A grip as geometry needs it: where on which face, turned how far about the normal (radians), with which pads. Of a
 * jaw the face is the one that the gripper comes down on; its fingers reach down on both sides of the part and close
 * along the x axis of the pad frame.
 */
export interface GripPlace {
  readonly face: FaceName;
  readonly position: readonly [number, number];
  readonly turn: number;
  /** Group of pads in use; absent: all. */
  readonly group?: string | undefined;
}

/** Final pose of a part in the cell. */
export const finalPose = (cell: Cell, part: Part): Pose => compose(cell.weldmentPose, part.pose);

/**
 * Pose of the pad plane's frame in the part's frame: z points into the part, x is the face's first axis turned about
 * z by the grip's turn.
 */
export function padFrame(shape: Shape, grip: GripPlace): Pose {
  const face = faceFrame(shape, grip.face);
  const at = along(along(face.centre, face.u, grip.position[0]), face.v, grip.position[1]);
  const z = negate(face.normal);
  const x = rotate(turnAbout(z, grip.turn), face.u);
  return { at, turn: fromAxes(x, cross(z, x), z) };
}

/** Pose of the flange when the gripper sits at `grip` on a part whose frame is at `partPose`. */
export const gripFlange = (shape: Shape, partPose: Pose, grip: GripPlace, gripper: Gripper): Pose =>
  compose(compose(partPose, padFrame(shape, grip)), { at: [0, 0, -gripper.reach], turn: NO_TURN });

/** The wrist centre of an arm whose flange is at a pose: c4 behind it along the flange axis. */
export const wristAt = (flange: Pose, { c4 }: Arm): Vec3 => along(flange.at, axisZ(flange.turn), -c4);

/** Pose of the flange when the wire tip is at `tip`. */
export const torchFlange = (tip: Pose, torch: Torch): Pose => compose(tip, inverse(torch.tip));

/**
 * Pose of a part that lies on a rest at a station: its lowest face on the station's top, the centre of its bounding
 * box above the station's origin, turned by `yaw` radians about the vertical beyond the station's own turn. A
 * RangeError for a rest that the shape does not have, which reading and the rules keep out.
 */
export function lyingPose(shape: Shape, rest: FaceName, station: Pose, yaw: number): Pose {
  const lying = restPose(shape, rest);
  if (lying === undefined) throw new RangeError(`a ${shape.kind} has no rest ${rest}`);
  return compose(station, compose({ at: [0, 0, 0], turn: turnAbout(UP, yaw) }, lying));
}

/** A pad that touches a part, in the frame of the part's pose. */
export interface PlacedPad {
  /** Middle of its face. */
  readonly at: Vec3;
  /** Unit, from the pad into the part. */
  readonly into: Vec3;
}

/** Pads in use, and the direction in which their gripper as a whole comes down on the part. */
export interface PlacedPads {
  readonly pads: readonly PlacedPad[];
  readonly into: Vec3;
}

/**
 * The pads in use of a gripper in the cell, each with its own direction into the part, and the direction in which the
 * gripper as a whole comes down on the part. The pads of a magnet or vacuum all look that way; the two of a jaw look
 * at each other.
 */
export function padsInCell(shape: Shape, partPose: Pose, grip: GripPlace, gripper: Gripper): PlacedPads {
  const own = padFrame(shape, grip);
  const frame = compose(partPose, own);
  const into = rotate(frame.turn, UP);
  if (gripper.kind === 'jaw') {
    const { low, high } = jawSpan(shapeSolid(shape), own, gripper);
    const depth = fingerPadDepth(gripper);
    const x = axisX(frame.turn);
    return {
      pads: [
        { at: place(frame, [low, 0, depth]), into: x },
        { at: place(frame, [high, 0, depth]), into: negate(x) },
      ],
      into,
    };
  }
  const pads = padsInUse(gripper, grip.group).map(([x, y]) => ({ at: place(frame, [x, y, 0]), into }));
  return { pads, into };
}

/** The gripper's envelope, and the fingers of a jaw, as a solid in the cell. */
export function gripperSolid(shape: Shape, partPose: Pose, grip: GripPlace, gripper: Gripper): Solid {
  const own = padFrame(shape, grip);
  const envelope = envelopeOf(gripper);
  const solid =
    gripper.kind === 'jaw'
      ? withFingers(envelope, fingersOf(gripper, jawSpan(shapeSolid(shape), own, gripper)))
      : envelope;
  return placeSolid(solid, compose(partPose, own));
}

const TABLE_DEPTH = 100;

/** The work table's top as a solid in the cell. */
export const tableSolid = (cell: Cell): Solid =>
  placeSolid(
    block(cell.table.size[0], cell.table.size[1], TABLE_DEPTH),
    compose(cell.table.pose, { at: [0, 0, -TABLE_DEPTH / 2], turn: NO_TURN }),
  );

/** A box under a station's top: its ranges along x and y of the station, and its depth; in the cell. */
const slabUnder = (
  pose: Pose,
  [x0, x1]: readonly [number, number],
  [y0, y1]: readonly [number, number],
  depth: number,
): Solid =>
  placeSolid(
    block(x1 - x0, y1 - y0, depth),
    compose(pose, { at: [(x0 + x1) / 2, (y0 + y1) / 2, -depth / 2], turn: NO_TURN }),
  );

/** The top of the regrip table and the rims of the two-sided stand as solids in the cell. The infeed has no size. */
export function stationSolids({ regrip, twoSided }: Cell): readonly Solid[] {
  const [x, y] = [regrip.size[0] / 2, regrip.size[1] / 2];
  const table = slabUnder(regrip.pose, [-x, x], [-y, y], TABLE_DEPTH);
  return twoSided === undefined ? [table] : [table, ...rimsOf(twoSided)];
}

/** Two rims along x, and two between them where the stand is closed at its ends. */
function rimsOf({ pose, size, opening, depth }: TwoSidedStand): readonly Solid[] {
  const [x, y, openX, openY] = [size[0] / 2, size[1] / 2, opening[0] / 2, opening[1] / 2];
  const along = [slabUnder(pose, [-x, x], [openY, y], depth), slabUnder(pose, [-x, x], [-y, -openY], depth)];
  if (x <= openX) return along;
  const across: readonly [number, number] = [-openY, openY];
  return [...along, slabUnder(pose, [openX, x], across, depth), slabUnder(pose, [-x, -openX], across, depth)];
}

export const keepOutSolids = (cell: Cell): readonly Solid[] =>
  cell.keepOuts.map(({ pose, size }) => placeSolid(block(size[0], size[1], size[2]), pose));

/** As many as the rolls tried about the wire (facts/torch-ranking.ts), so that a roll maps the pieces onto themselves. */
const TORCH_SIDES = 12;
const BACK = turnAbout([1, 0, 0], Math.PI);

/** Pieces of a torch about its wire, tip at the origin and wire along -z, made once for each torch. */
interface TorchShape {
  /** Nozzle and body, or one cone frustum over both. */
  readonly round: readonly ConvexPiece[];
  /** From the end of the body to the flange. */
  readonly neck: ConvexPiece;
  /** By the length of a stroke, mm: the room behind the end of the body. */
  readonly rears: Map<number, ConvexPiece>;
}

const TORCH_SHAPES = new WeakMap<Torch, TorchShape>();

function torchShape(torch: Torch): TorchShape {
  let shape = TORCH_SHAPES.get(torch);
  if (!shape) {
    shape = { round: roundPieces(torch), neck: neckPiece(torch), rears: new Map() };
    TORCH_SHAPES.set(torch, shape);
  }
  return shape;
}

/** A frustum about the wire, from one distance behind the tip to another, mm. */
const aboutWire = (front: number, from: number, rear: number, to: number): ConvexPiece =>
  placePiece(frustumPiece(front, from, rear, to, TORCH_SIDES), { at: [0, 0, 0], turn: BACK });

function roundPieces(torch: Torch): readonly ConvexPiece[] {
  const { nozzleRadius, nozzleLength, stickOut, bodyFrontRadius, bodyRadius, bodyLength } = torch;
  const nozzleEnd = stickOut + nozzleLength;
  const body = aboutWire(bodyFrontRadius, nozzleEnd, bodyRadius, bodyLength);
  return nozzleLength > 0 ? [aboutWire(nozzleRadius, stickOut, nozzleRadius, nozzleEnd), body] : [body];
}

function neckPiece({ bodyRadius, bodyLength, tip }: Torch): ConvexPiece {
  const bodyEnd: Vec3 = [0, 0, -bodyLength];
  const toFlange = subtract(inverse(tip).at, bodyEnd);
  const size = Math.max(1, length(toFlange));
  const z: Vec3 = length(toFlange) > 1 ? unit(toFlange) : [0, 0, -1];
  const x = perpendicular(z);
  const neck = frustumPiece(bodyRadius, 0, bodyRadius, size, TORCH_SIDES);
  return placePiece(neck, { at: bodyEnd, turn: fromAxes(x, cross(z, x), z) });
}

/**
 * Nozzle and body of the torch, in the cell: from the nozzle's end to the end of the body, about the wire. Each is
 * contained in its piece; where the nozzle is not described by itself, one cone frustum contains both. `tip` is the
 * pose of the wire tip, z in the direction of feed.
 */
export const torchPieces = (tip: Pose, torch: Torch): readonly ConvexPiece[] =>
  torchShape(torch).round.map((piece) => placePiece(piece, tip));

/** The room into which the body is drawn back by a stroke (mm): a round bar behind its end, in the cell. */
export function torchRear(tip: Pose, torch: Torch, stroke: number): ConvexPiece {
  const { bodyRadius, bodyLength } = torch;
  const { rears } = torchShape(torch);
  let rear = rears.get(stroke);
  if (!rear) rears.set(stroke, (rear = aboutWire(bodyRadius, bodyLength, bodyRadius, bodyLength + stroke)));
  return placePiece(rear, tip);
}

/**
 * What holds the torch, from the end of its body straight to the flange, as thick as the body, in the cell. Not round
 * about the wire: it turns with the roll of the tip.
 */
export const torchNeck = (tip: Pose, torch: Torch): ConvexPiece => placePiece(torchShape(torch).neck, tip);

/** The whole torch in the cell, piece by piece. */
export const wholeTorch = (tip: Pose, torch: Torch): readonly ConvexPiece[] => [
  ...torchPieces(tip, torch),
  torchNeck(tip, torch),
];
