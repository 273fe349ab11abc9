import { prismPiece, placePiece } from '../geometry/convex.js';
import { pieceMass } from '../geometry/mass.js';
import { fromAxes } from '../geometry/pose.js';
import { makeSolid, type Solid } from '../geometry/solid.js';
import { cross, type Vec3 } from '../geometry/vector.js';

/**
 * The metal of a tack as a triangular prism: one leg along each of the two surfaces, 45 degrees to either side of the
 * seam's open bisector. `from` is the root at the start of the tack, `along` and `open` are unit vectors square to
 * each other; lengths in mm, any frame.
 */
export function tackBead(from: Vec3, along: Vec3, open: Vec3, length: number, leg: number): Solid {
  const side = leg * Math.SQRT1_2;
  const triangle = [
    [0, 0],
    [side, -side],
    [side, side],
  ] as const;
  const piece = placePiece(prismPiece(triangle, 0, length), {
    at: from,
    turn: fromAxes(open, cross(along, open), along),
  });
  return makeSolid([piece], [], pieceMass(piece));
}
