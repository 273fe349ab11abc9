import { snap } from '../base/order.js';
import type { Frame } from '../model/frame.js';

/** Bars that tacks join, as one rigid body: sums over its bars and its feet, all in N and mm. */
export interface Piece {
  readonly weight: number;
  /** Sums of weight times x and y of the middles of its bars. */
  readonly momentX: number;
  readonly momentY: number;
  /** Highest point above the table. */
  readonly height: number;
  /** Grounded nodes that its bars stand on, in rising order. */
  readonly feet: readonly number[];
  /** Corners of the convex outline of the feet, x and y in turn, counter-clockwise. */
  readonly outline: readonly number[];
}

/** Reserves within this, mm, are equal. */
const GRAIN = 1e-3;

/** The convex outline of nodes seen from above (Andrew 1979); straight corners are left out. */
export function outlineOf(frame: Frame, feet: readonly number[]): readonly number[] {
  const points = feet.map((node) => frame.nodes[node]!.point).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (way: typeof points): number[] => {
    const kept: number[] = [];
    for (const [x, y] of way) {
      for (let n = kept.length; n >= 4; n = kept.length) {
        const [ax, ay, bx, by] = [kept[n - 4]!, kept[n - 3]!, kept[n - 2]!, kept[n - 1]!];
        if ((bx - ax) * (y - ay) - (by - ay) * (x - ax) > 1e-9) break;
        kept.length = n - 2;
      }
      kept.push(x, y);
    }
    return kept.slice(0, Math.max(2, kept.length) - 2);
  };
  if (points.length === 1) return [points[0]![0], points[0]![1]];
  return [...half(points), ...half([...points].reverse())];
}

/** How far a point is inside a convex outline, mm; negative outside. */
function depth(outline: readonly number[], x: number, y: number): number {
  const n = outline.length;
  let inside = n >= 6;
  let nearest = Infinity;
  for (let i = 0; i < n; i += 2) {
    const [ax, ay] = [outline[i]!, outline[i + 1]!];
    const [ex, ey] = [outline[(i + 2) % n]! - ax, outline[(i + 3) % n]! - ay];
    const [px, py] = [x - ax, y - ay];
    if (ex * py - ey * px < 0) inside = false;
    const size = ex * ex + ey * ey;
    const share = size === 0 ? 0 : Math.min(1, Math.max(0, (px * ex + py * ey) / size));
    nearest = Math.min(nearest, Math.hypot(px - share * ex, py - share * ey));
  }
  return inside ? nearest : -nearest;
}

/**
 * Whether a piece stands on its feet: about every line in the table its weight and the clamps, which count as weights on
 * the feet, hold against a push of a share of the weight at its highest point, with the reserve of the push, and against
 * a shifted centre of mass. Feet are discs. That holds about all lines at once when the common centre of mass is as far
 * inside the outline of the feet as the push could move it. Bending of bars and strength of tacks are not judged here.
 */
export function stands(frame: Frame, piece: Piece): boolean {
  const { choices, foot, nodes } = frame;
  const clamp = choices.clamp / choices['gravity-reserve'];
  let [x, y] = [piece.momentX, piece.momentY];
  for (const node of piece.feet) {
    x += clamp * nodes[node]!.point[0];
    y += clamp * nodes[node]!.point[1];
  }
  const whole = piece.weight + clamp * piece.feet.length;
  const push = choices['push-share'] * choices['push-reserve'] * piece.height + choices['centre-shift'];
  const moved = (piece.weight * push) / whole;
  return snap(depth(piece.outline, x / whole, y / whole) + foot - moved, GRAIN) >= 0;
}
