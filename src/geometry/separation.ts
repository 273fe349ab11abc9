import { rounded } from '../base/order.js';
import type { Span } from './axes.js';
import { DEPTH_GRAIN, everyAxis, project } from './axes.js';
import { boundsApart } from './bounds.js';
import type { ConvexPiece } from './convex.js';
import type { Solid } from './solid.js';

/** Least overlap of the projections over all axes, or any value up to `enough` as soon as one axis shows it. */
function leastOverlap(a: ConvexPiece, b: ConvexPiece, enough: number): number {
  const spanA: Span = { low: 0, high: 0 };
  const spanB: Span = { low: 0, high: 0 };
  let least = Infinity;
  everyAxis(a, b, (x, y, z) => {
    project(a.coordinates, x, y, z, spanA);
    project(b.coordinates, x, y, z, spanB);
    const overlapHere = Math.min(spanA.high - spanB.low, spanB.high - spanA.low);
    if (overlapHere < least) least = overlapHere;
    return least > enough;
  });
  return least;
}

/**
 * Whether two convex pieces penetrate each other by more than `tolerance` mm. Pieces that merely touch do not overlap,
 * even for a tolerance of 0.
 */
export function overlap(a: ConvexPiece, b: ConvexPiece, tolerance: number): boolean {
  const limit = tolerance + DEPTH_GRAIN;
  return !boundsApart(a.bounds, b.bounds, limit) && leastOverlap(a, b, limit) > limit;
}

/** The least way in mm by which one of two convex pieces must move for them to part; 0 when they touch or are apart. */
export const penetration = (a: ConvexPiece, b: ConvexPiece): number =>
  boundsApart(a.bounds, b.bounds, 0) ? 0 : Math.max(0, rounded(leastOverlap(a, b, 0), 6));

/** Whether any piece of one solid penetrates any of the other by more than `tolerance` mm. */
export function solidsOverlap(a: Solid, b: Solid, tolerance: number): boolean {
  if (boundsApart(a.bounds, b.bounds, tolerance)) return false;
  for (const pieceA of a.pieces)
    for (const pieceB of b.pieces) if (overlap(pieceA, pieceB, tolerance)) return true;
  return false;
}

/** The greatest penetration of any pair of pieces of two solids, mm; 0 when they touch or are apart. */
export function solidPenetration(a: Solid, b: Solid): number {
  if (boundsApart(a.bounds, b.bounds, 0)) return 0;
  let greatest = 0;
  for (const pieceA of a.pieces)
    for (const pieceB of b.pieces) greatest = Math.max(greatest, penetration(pieceA, pieceB));
  return greatest;
}
