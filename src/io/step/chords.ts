import type { Point2 } from '../../geometry/outline.js';
import { signedArea } from '../../geometry/outline.js';
import type { Contour, Piece } from './contour.js';
import { spanOf } from './contour.js';

/** Chords may be this far off the arc for which they stand, mm, at first; twice as far, and again, while there are too many (our choice). */
const DEVIATION = 0.2;
/** No more corners than an outline may have. */
export const MOST_CORNERS = 200;

export interface ChordOutline {
  /** Counter-clockwise. */
  readonly corners: readonly Point2[];
  /** How far chords are off their arcs at most, mm; 0 without arcs. */
  readonly deviation: number;
}

/** A closed line as a polygon whose corners lie on its arcs; undefined where its straight pieces alone are too many. */
export function chordOutline({ pieces }: Contour): ChordOutline | undefined {
  const straight = pieces.filter(({ arc }) => arc === undefined).length;
  const round = pieces.length - straight;
  if (straight + 2 * round > MOST_CORNERS) return undefined;
  for (let deviation = DEVIATION; ; deviation *= 2) {
    const drawn = pieces.map((piece) => chordsOf(piece, deviation));
    const corners = drawn.flatMap((one) => one.corners);
    if (corners.length > MOST_CORNERS) continue;
    const off = Math.max(...drawn.map((one) => one.off));
    return { corners: signedArea(corners) > 0 ? corners : corners.reverse(), deviation: off };
  }
}

function chordsOf(
  { from, to, arc }: Piece,
  deviation: number,
): { readonly corners: Point2[]; readonly off: number } {
  if (arc === undefined) return { corners: [from], off: 0 };
  const { centre, radius, left } = arc;
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const span = spanOf(from, to, arc);
  const step = 2 * Math.acos(Math.max(0, 1 - deviation / radius));
  const count = Math.max(2, Math.ceil(span / step));
  const corners = Array.from({ length: count }, (_, i): Point2 => {
    const at = start + ((left ? 1 : -1) * span * i) / count;
    return i === 0 ? from : [centre[0] + radius * Math.cos(at), centre[1] + radius * Math.sin(at)];
  });
  return { corners, off: radius * (1 - Math.cos(span / count / 2)) };
}
