import { boundsDistance } from './bounds.js';
import { closest } from './closest.js';
import type { ConvexPiece } from './convex.js';
import type { Solid } from './solid.js';
import type { Vec3 } from './vector.js';
import { ORIGIN } from './vector.js';

/** Distance between two convex pieces in mm, 0 when they touch or overlap. */
export const pieceDistance = (a: ConvexPiece, b: ConvexPiece): number =>
  closest(a.coordinates, b.coordinates, ORIGIN).distance;

/** Distance from a point to a convex piece in mm, 0 on its surface and inside. */
export const pointPieceDistance = (point: Vec3, piece: ConvexPiece): number =>
  closest(Float64Array.from(point), piece.coordinates, ORIGIN).distance;

/** Distance from a line segment to a convex piece in mm, 0 when they touch or overlap. */
export const segmentPieceDistance = (from: Vec3, to: Vec3, piece: ConvexPiece): number =>
  closest(Float64Array.of(...from, ...to), piece.coordinates, ORIGIN).distance;

/** Distance between two solids in mm, 0 when they touch or overlap. */
export function solidDistance(a: Solid, b: Solid): number {
  let nearest = Infinity;
  for (const pieceA of a.pieces)
    for (const pieceB of b.pieces)
      if (boundsDistance(pieceA.bounds, pieceB.bounds) < nearest)
        nearest = Math.min(nearest, pieceDistance(pieceA, pieceB));
  return nearest;
}

/** Distance from a point to a solid in mm, 0 on its surface and inside. */
export const pointSolidDistance = (point: Vec3, solid: Solid): number =>
  solid.pieces.reduce((nearest, piece) => Math.min(nearest, pointPieceDistance(point, piece)), Infinity);
