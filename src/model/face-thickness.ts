import { intersectPolygons, polygonArea } from '../geometry/polygon.js';
import type { PlanarFace } from '../geometry/solid.js';
import { add, dot, length } from '../geometry/vector.js';
import { faceOf, partThickness, shapeSolid } from './part-geometry.js';
import type { FaceName } from './scalars.js';
import type { Shape } from './shape.js';

/** Faces are opposed when their normals add up to less than this. */
const OPPOSED = 1e-6;
/** Less of a face behind another than this, mm2, is none. */
const LEAST_AREA = 1;

function depthBehind(face: PlanarFace, other: PlanarFace): number {
  if (length(add(face.normal, other.normal)) >= OPPOSED) return Infinity;
  const depth = face.offset - dot(face.normal, other.polygons[0]![0]!);
  if (depth <= OPPOSED) return Infinity;
  const under = face.polygons.some((polygon) =>
    other.polygons.some(
      (beneath) => polygonArea(intersectPolygons(polygon, beneath, other.normal)) > LEAST_AREA,
    ),
  );
  return under ? depth : Infinity;
}

/** Thicknesses that were worked out before, by face. */
const DEPTHS = new WeakMap<PlanarFace, number>();

/**
 * How thick the material behind a face is where it is thinnest, mm: the wall, leg, web or flange under a pad, by the
 * nearest face on the other side of the matter. Where no face lies opposite (a wedge), what the tack rules count.
 */
export function faceThickness(shape: Shape, name: FaceName): number {
  const face = faceOf(shape, name);
  if (face === undefined) return partThickness(shape);
  let depth = DEPTHS.get(face);
  if (depth === undefined) {
    depth = Math.min(...shapeSolid(shape).faces.map((other) => depthBehind(face, other)));
    if (depth === Infinity) depth = partThickness(shape);
    DEPTHS.set(face, depth);
  }
  return depth;
}
