import type { ConvexPiece } from '../geometry/convex.js';
import { rotate, translate, type Pose } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import { pieceSweepHits } from '../geometry/sweep.js';
import { length, subtract, unit, type Vec3 } from '../geometry/vector.js';
import type { Torch } from '../model/cell.js';
import { torchNeck, torchPieces, torchRear } from '../model/placement.js';

/** A piece of the torch and a straight way that it moves along while a tack is laid or reached. */
interface Sweep {
  readonly piece: ConvexPiece;
  readonly direction: Vec3;
  readonly travel: number;
}

/** All the room that something needs, as swept convex pieces. */
export type SweptSpace = readonly Sweep[];

/** The way of the tip from the start to the end of a tack. */
function seamSweep(piece: ConvexPiece, start: Pose, end: Pose): Sweep {
  const way = subtract(end.at, start.at);
  return { piece, direction: unit(way), travel: length(way) };
}

/**
 * Nozzle and body about the wire, along the tack and drawn back from it by the stroke: their pieces, and behind them
 * a cylinder as long as the stroke. No piece is thicker than what is behind it, so a torch that is drawn back stays
 * in this room. Round about the wire, so that it holds for every roll.
 */
export const torchSpace = (start: Pose, end: Pose, torch: Torch, stroke: number): SweptSpace =>
  [...torchPieces(start, torch), torchRear(start, torch, stroke)].map((piece) =>
    seamSweep(piece, start, end),
  );

/** What is between the body of the torch and the flange, along the tack, and back by the stroke at both ends of it. */
export function neckSpace(start: Pose, end: Pose, torch: Torch, stroke: number): SweptSpace {
  const back = rotate(start.turn, [0, 0, -1]);
  const drawnBack = (tip: Pose): Sweep => ({ piece: torchNeck(tip, torch), direction: back, travel: stroke });
  const clear = translate(start, [back[0] * stroke, back[1] * stroke, back[2] * stroke]);
  return [
    seamSweep(torchNeck(start, torch), start, end),
    seamSweep(torchNeck(clear, torch), start, end),
    drawnBack(start),
    drawnBack(end),
  ];
}

/** Whether the space is entered by a solid by more than the tolerance. */
export const spaceHits = (space: SweptSpace, solid: Solid, tolerance: number): boolean =>
  space.some(({ piece, direction, travel }) =>
    solid.pieces.some((fixed) => pieceSweepHits(piece, direction, travel, fixed, tolerance)),
  );
