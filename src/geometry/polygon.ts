import { snap } from '../base/order.js';
import type { Vec3 } from './vector.js';
import { add, along, cross, dot, length, scale, subtract, unit } from './vector.js';

/**
 * A convex polygon in space, millimetres, counter-clockwise seen against its unit normal; fewer than three corners
 * mean no polygon at all.
 */
export type Polygon = readonly Vec3[];

export const NO_POLYGON: Polygon = [];

/** One side of a polygon. */
export interface PolygonEdge {
  readonly from: Vec3;
  readonly to: Vec3;
  /** Unit vector from `from` to `to`. */
  readonly direction: Vec3;
  /** Unit vector in the plane, out of the polygon. */
  readonly outward: Vec3;
  readonly length: number;
}

/** Corners nearer than this, mm, are one corner. */
const SAME_CORNER = 1e-6;
/** Corners nearer to a clipping line than this, mm, lie on it. */
const CLIP_GRAIN = 1e-9;

/** Twice the directed area: the sum of the cross products of the triangles from the first corner. */
function doubledArea(polygon: Polygon): Vec3 {
  let sum: Vec3 = [0, 0, 0];
  for (let i = 1; i + 1 < polygon.length; i += 1)
    sum = add(sum, cross(subtract(polygon[i]!, polygon[0]!), subtract(polygon[i + 1]!, polygon[0]!)));
  return sum;
}

/** Area in mm2, 0 for no polygon. */
export const polygonArea = (polygon: Polygon): number => length(doubledArea(polygon)) / 2;

/** Centre of area; that of the corners when the area is nothing. The polygon must have a corner. */
export function polygonCentroid(polygon: Polygon): Vec3 {
  const origin = polygon[0]!;
  const whole = doubledArea(polygon);
  const size = dot(whole, whole);
  if (size === 0) return scale(polygon.reduce(add), 1 / polygon.length);
  let moment: Vec3 = [0, 0, 0];
  for (let i = 1; i + 1 < polygon.length; i += 1) {
    const [u, v] = [subtract(polygon[i]!, origin), subtract(polygon[i + 1]!, origin)];
    moment = add(moment, scale(add(u, v), dot(cross(u, v), whole) / size / 3));
  }
  return add(origin, moment);
}

/** The sides in order; those shorter than a nanometre are left out. */
export function polygonEdges(polygon: Polygon, normal: Vec3): readonly PolygonEdge[] {
  const edges: PolygonEdge[] = [];
  polygon.forEach((from, i) => {
    const to = polygon[(i + 1) % polygon.length]!;
    const side = subtract(to, from);
    const size = length(side);
    if (size <= SAME_CORNER) return;
    const direction = scale(side, 1 / size);
    edges.push({ from, to, direction, outward: unit(cross(direction, normal)), length: size });
  });
  return edges;
}

const withoutRepeats = (corners: Vec3[]): Polygon => {
  const kept = corners.filter(
    (corner, i) => length(subtract(corner, corners[(i + 1) % corners.length]!)) > SAME_CORNER,
  );
  return kept.length < 3 ? NO_POLYGON : kept;
};

/**
 * The part of a convex polygon where `normal . x <= offset` (one step of Sutherland and Hodgman 1974). Corners on the
 * line, within a last bit, are kept as they are.
 */
export function clipPolygon(polygon: Polygon, normal: Vec3, offset: number): Polygon {
  const beyond = polygon.map((corner) => {
    const far = dot(normal, corner) - offset;
    return Math.abs(far) < CLIP_GRAIN ? 0 : far;
  });
  if (beyond.every((far) => far <= 0)) return polygon;
  const kept: Vec3[] = [];
  polygon.forEach((corner, i) => {
    const next = (i + 1) % polygon.length;
    const [here, there] = [beyond[i]!, beyond[next]!];
    if (here <= 0) kept.push(corner);
    if ((here < 0 && there > 0) || (here > 0 && there < 0))
      kept.push(along(corner, subtract(polygon[next]!, corner), here / (here - there)));
  });
  return withoutRepeats(kept);
}

/**
 * The part of `polygon` that lies over or under `other`, whose plane is parallel to its own and whose normal is
 * `otherNormal` (either way round). The answer lies in the plane of `polygon` and turns as it does.
 */
export function intersectPolygons(polygon: Polygon, other: Polygon, otherNormal: Vec3): Polygon {
  if (other.length < 3) return NO_POLYGON;
  let rest = polygon;
  for (const { from, outward } of polygonEdges(other, otherNormal)) {
    rest = clipPolygon(rest, outward, dot(outward, from));
    if (rest.length < 3) return NO_POLYGON;
  }
  return rest;
}

/** The points of a convex polygon at least `distance` mm inside all of its sides: no polygon when nothing is left. */
export function shrinkPolygon(polygon: Polygon, normal: Vec3, distance: number): Polygon {
  let rest = polygon;
  for (const { from, outward } of polygonEdges(polygon, normal)) {
    rest = clipPolygon(rest, outward, dot(outward, from) - distance);
    if (rest.length < 3) return NO_POLYGON;
  }
  return polygonArea(rest) > SAME_CORNER * SAME_CORNER ? rest : NO_POLYGON;
}

/** Whether a point, seen along the normal, lies in the polygon or at most `tolerance` mm outside each side's line. */
export const polygonContains = (polygon: Polygon, normal: Vec3, point: Vec3, tolerance: number): boolean =>
  polygon.length >= 3 &&
  polygonEdges(polygon, normal).every(
    ({ from, outward }) => snap(dot(outward, subtract(point, from)) - tolerance, CLIP_GRAIN) <= 0,
  );

/** The nearest point of the plane `normal . x = offset` to a point. */
export const projectPoint = (normal: Vec3, offset: number, point: Vec3): Vec3 =>
  along(point, normal, offset - dot(normal, point));
