import { frustumPiece, placePiece, type ConvexPiece } from '../geometry/convex.js';
import {
  compose,
  fromAxes,
  inverse,
  multiply,
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
import type { Cell, Gripper, Torch } from './cell.js';
import { faceFrame, lyingOn } from './part-geometry.js';
import type { OuterFace } from './scalars.js';
import type { Part, Shape } from './weldment.js';

const UP: Vec3 = [0, 0, 1];

/** A grip as geometry needs it: where on which face, turned how far about the normal (radians). */
export interface GripPlace {
  readonly face: OuterFace;
  readonly position: readonly [number, number];
  readonly turn: number;
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

/** Pose of the flange when the wire tip is at `tip`. */
export const torchFlange = (tip: Pose, torch: Torch): Pose => compose(tip, inverse(torch.tip));

/**
 * Pose of a part that lies on `face` at a station: its lowest face on the station's top, the centre of its bounding
 * box above the station's origin, turned by `yaw` radians about the vertical beyond the station's own turn.
 */
export function lyingPose(shape: Shape, face: OuterFace, station: Pose, yaw: number): Pose {
  const turn = multiply(turnAbout(UP, yaw), lyingOn(face));
  const { centre } = faceFrame(shape, face);
  const height = Math.abs(centre[0] + centre[1] + centre[2]);
  return compose(station, { at: [0, 0, height], turn });
}

/** Centres of a gripper's pads in the cell, and the direction from the pads into the part. */
export function padsInCell(
  shape: Shape,
  partPose: Pose,
  grip: GripPlace,
  gripper: Gripper,
): { readonly centres: readonly Vec3[]; readonly into: Vec3 } {
  const frame = compose(partPose, padFrame(shape, grip));
  return {
    centres: gripper.pads.map(([x, y]) => place(frame, [x, y, 0])),
    into: rotate(frame.turn, UP),
  };
}

/** The gripper's envelope as a solid in the cell. */
export function gripperSolid(shape: Shape, partPose: Pose, grip: GripPlace, gripper: Gripper): Solid {
  const { length, width, height } = gripper.envelope;
  const frame = compose(partPose, padFrame(shape, grip));
  return placeSolid(block(length, width, height), compose(frame, { at: [0, 0, -height / 2], turn: NO_TURN }));
}

const TABLE_DEPTH = 100;

/** The work table's top as a solid in the cell. */
export const tableSolid = (cell: Cell): Solid =>
  placeSolid(
    block(cell.table.size[0], cell.table.size[1], TABLE_DEPTH),
    compose(cell.table.pose, { at: [0, 0, -TABLE_DEPTH / 2], turn: NO_TURN }),
  );

export const keepOutSolids = (cell: Cell): readonly Solid[] =>
  cell.keepOuts.map(({ pose, size }) => placeSolid(block(size[0], size[1], size[2]), pose));

/** As many as the rolls tried about the wire (facts/torch-motion.ts), so that a roll maps the cone onto itself. */
const TORCH_SIDES = 12;
const BACK = turnAbout([1, 0, 0], Math.PI);

/**
 * Nozzle and body of the torch as one cone frustum that contains both, in the cell: from the nozzle's end to the end
 * of the body, about the wire. `tip` is the pose of the wire tip, z in the direction of feed.
 */
export function torchCone(tip: Pose, torch: Torch): ConvexPiece {
  const { nozzleRadius, stickOut, bodyRadius, bodyLength } = torch;
  const piece = frustumPiece(nozzleRadius, stickOut, bodyRadius, bodyLength, TORCH_SIDES);
  return placePiece(piece, compose(tip, { at: [0, 0, 0], turn: BACK }));
}

/**
 * What holds the torch, from the end of its body straight to the flange, as thick as the body, in the cell. Not round
 * about the wire: it turns with the roll of the tip.
 */
export function torchNeck(tip: Pose, torch: Torch): ConvexPiece {
  const bodyEnd = place(tip, [0, 0, -torch.bodyLength]);
  const toFlange = subtract(compose(tip, inverse(torch.tip)).at, bodyEnd);
  const size = Math.max(1, length(toFlange));
  const z = length(toFlange) > 1 ? unit(toFlange) : rotate(tip.turn, [0, 0, -1]);
  const x = perpendicular(z);
  const piece = frustumPiece(torch.bodyRadius, 0, torch.bodyRadius, size, TORCH_SIDES);
  return placePiece(piece, { at: bodyEnd, turn: fromAxes(x, cross(z, x), z) });
}
