import { polygonContains, projectPoint } from '../../../geometry/polygon.js';
import type { PlanarFace, Solid } from '../../../geometry/solid.js';
import { dot, scale, subtract, unit, type Vec3 } from '../../../geometry/vector.js';
import { sideText } from '../../direction-text.js';
import { amount } from '../../numbers.js';
import { plain } from '../../plain.js';

/** A part of a joint, in the frame of the seam. */
export interface EdgedPart {
  readonly name: string;
  readonly solid: Solid;
}

/** Where a rule is put to measure along a seam. */
export interface NamedEdge {
  /** Of whose edge: the seam begins at it or a little behind it; undefined where it begins at no edge. */
  readonly part: string | undefined;
  /** In words, safe to show: `the -y edge of cheek-left`. */
  readonly text: string;
  /** mm from there to the start of the seam. */
  readonly offset: number;
}

/** A seam starts this far behind an edge at most, mm; else nobody would look for the edge there. Our choice. */
const BEHIND = 30;
/** A seam runs beside the faces that it joins, off them by a root gap or a round corner, mm. Our choice. */
const BESIDE = 4;
/** A face that a seam leaves at a lesser angle is no end of it: cosine to the seam. */
const ACROSS = 0.5;
/** Edges that are as near as this are equally good, mm. */
const SAME = 1e-3;

/** How far before the start of the seam the face is crossed, mm; undefined where the seam does not pass its edge. */
function behind(face: PlanarFace, start: Vec3, way: Vec3): number | undefined {
  const slope = dot(face.normal, way);
  // Out of the matter against the seam: the part ends here, and the edge can be felt.
  if (slope > -ACROSS || face.curved !== undefined) return undefined;
  const offset = (dot(face.normal, start) - face.offset) / slope;
  if (offset < -SAME || offset > BEHIND) return undefined;
  const crossing = projectPoint(face.normal, face.offset, subtract(start, scale(way, offset)));
  const passed = face.polygons.some((polygon) => polygonContains(polygon, face.normal, crossing, BESIDE));
  return passed ? Math.max(0, offset) : undefined;
}

/**
 * The edge from which places on a seam are measured: of the parts of its joint, the one that ends nearest to the start
 * of the seam, the first of equals; by the side to which that end faces. Where none does, as on round parts, the start itself by its
 * place. All in one frame, mm; the seam has a length.
 */
export function namedEdge(
  { from, to }: { readonly from: Vec3; readonly to: Vec3 },
  parts: readonly EdgedPart[],
): NamedEdge {
  const way = unit(subtract(to, from));
  const ends = parts.flatMap(({ name, solid }) =>
    solid.faces.flatMap((face) => {
      const offset = behind(face, from, way);
      return offset === undefined ? [] : [{ part: name, offset, side: sideText(face.normal) }];
    }),
  );
  const [first, ...others] = ends;
  if (first === undefined)
    return {
      part: undefined,
      text: `the seam's end at (${from.map((x) => amount(x, 1)).join(', ')})`,
      offset: 0,
    };
  const { part, offset, side } = others.reduce(
    (best, next) => (next.offset < best.offset - SAME ? next : best),
    first,
  );
  const which = side === 'above' ? 'upper' : side === 'below' ? 'lower' : side;
  return { part, offset, text: `the ${which} edge of ${plain(part)}` };
}
