import type { Span } from './axes.js';
import { DEPTH_GRAIN, everyAxis, project } from './axes.js';
import { sweptApart } from './bounds.js';
import type { ConvexPiece } from './convex.js';
import type { Solid } from './solid.js';
import type { Vec3 } from './vector.js';

/** The part of the way, in mm, during which two pieces overlap by more than the tolerance; open at both ends. */
interface Window {
  enter: number;
  leave: number;
}

/**
 * Narrows the window to where the spans along one axis overlap by more than `limit`. The moving span runs along the
 * axis at `speed` mm a mm of way.
 */
function narrow(window: Window, moving: Span, fixed: Span, speed: number, limit: number): void {
  const first = fixed.low - moving.high + limit;
  const last = fixed.high - moving.low - limit;
  if (speed === 0) {
    if (first >= 0 || last <= 0) window.leave = window.enter;
    return;
  }
  window.enter = Math.max(window.enter, (speed > 0 ? first : last) / speed);
  window.leave = Math.min(window.leave, (speed > 0 ? last : first) / speed);
}

/**
 * Whether a convex piece, moved by `direction * s` for any s from 0 to `travel`, penetrates a fixed one by more than
 * `tolerance` mm. Exact: along each separating axis the projections overlap enough during one interval of s, and the
 * pieces do so while all those intervals last. `direction` is a unit vector, `travel` is in mm and not negative.
 * A piece that slides along a touching face does not hit.
 */
export function pieceSweepHits(
  moving: ConvexPiece,
  direction: Vec3,
  travel: number,
  fixed: ConvexPiece,
  tolerance: number,
): boolean {
  const limit = tolerance + DEPTH_GRAIN;
  if (sweptApart(moving.bounds, direction, travel, fixed.bounds, limit)) return false;
  const window: Window = { enter: -Infinity, leave: Infinity };
  const spanMoving: Span = { low: 0, high: 0 };
  const spanFixed: Span = { low: 0, high: 0 };
  return everyAxis(moving, fixed, (x, y, z) => {
    project(moving.coordinates, x, y, z, spanMoving);
    project(fixed.coordinates, x, y, z, spanFixed);
    narrow(window, spanMoving, spanFixed, direction[0] * x + direction[1] * y + direction[2] * z, limit);
    return window.enter < window.leave && window.enter < travel && window.leave > 0;
  });
}

/** `pieceSweepHits` for any piece of the moving solid against any of the fixed one. */
export function sweepHits(
  moving: Solid,
  direction: Vec3,
  travel: number,
  fixed: Solid,
  tolerance: number,
): boolean {
  if (sweptApart(moving.bounds, direction, travel, fixed.bounds, tolerance)) return false;
  for (const pieceMoving of moving.pieces)
    for (const pieceFixed of fixed.pieces)
      if (pieceSweepHits(pieceMoving, direction, travel, pieceFixed, tolerance)) return true;
  return false;
}
