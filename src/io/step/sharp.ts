import type { Point2 } from '../../geometry/outline.js';
import { signedArea } from '../../geometry/outline.js';
import type { Contour, Piece } from './contour.js';

/** A closed line with its round corners drawn sharp. */
export interface SharpOutline {
  /** Counter-clockwise. */
  readonly corners: readonly Point2[];
  /** Radii that were drawn sharp, mm. */
  readonly radii: readonly number[];
}

/** How far the end of an arc may be out of the line beside it, as a sine: about a degree (our choice). */
const TANGENT = 0.02;

const way = ({ from, to }: Piece): Point2 => {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return [(to[0] - from[0]) / size, (to[1] - from[1]) / size];
};

/** Direction in which an arc leaves a point of it. */
function tangent({ arc }: Piece, [u, v]: Point2): Point2 {
  const { centre, radius, left } = arc!;
  const [x, y] = [(u - centre[0]) / radius, (v - centre[1]) / radius];
  return left ? [-y, x] : [y, -x];
}

const cross2 = (a: Point2, b: Point2): number => a[0] * b[1] - a[1] * b[0];

/**
 * The outline with each arc between two lines that it touches replaced by the corner in which these meet. Undefined where an
 * arc is no such corner.
 */
export function sharpOutline({ pieces, circle }: Contour): SharpOutline | undefined {
  if (circle !== undefined) return undefined;
  const n = pieces.length;
  const corners: Point2[] = [];
  const radii: number[] = [];
  for (const [i, piece] of pieces.entries()) {
    const [before, after] = [pieces.at(i - 1)!, pieces[(i + 1) % n]!];
    if (piece.arc === undefined) {
      if (before.arc === undefined) corners.push(piece.from);
      continue;
    }
    const corner = before.arc || after.arc ? undefined : cornerOf(before, piece, after);
    if (corner === undefined) return undefined;
    corners.push(corner);
    radii.push(piece.arc.radius);
  }
  if (corners.length < 3) return undefined;
  return { corners: signedArea(corners) > 0 ? corners : corners.reverse(), radii };
}

function cornerOf(before: Piece, round: Piece, after: Piece): Point2 | undefined {
  const [a, b] = [way(before), way(after)];
  const [start, end] = [tangent(round, round.from), tangent(round, round.to)];
  if (Math.abs(cross2(a, start)) > TANGENT || Math.abs(cross2(end, b)) > TANGENT) return undefined;
  const turn = cross2(a, b);
  if (Math.abs(turn) < 0.3 || turn > 0 !== round.arc!.left) return undefined;
  const off: Point2 = [after.from[0] - before.to[0], after.from[1] - before.to[1]];
  const share = cross2(off, b) / turn;
  return share < 0 ? undefined : [before.to[0] + a[0] * share, before.to[1] + a[1] * share];
}
