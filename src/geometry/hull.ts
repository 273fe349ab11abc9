import { compareVectors } from '../base/order.js';
import type { Vec3 } from './vector.js';
import {
  add,
  cross,
  dot,
  length,
  negate,
  perpendicular,
  scale,
  subtract,
  unit,
  withPlainZeros,
} from './vector.js';

/** A face of a convex hull: all points of its plane that are corners of the face, counter-clockwise from outside. */
export interface HullFace {
  /** Unit, out of the hull. */
  readonly normal: Vec3;
  readonly offset: number;
  readonly corners: readonly Vec3[];
}

/** Points nearer to a plane than this share of the size of the whole lie on it. */
const FLAT = 1e-7;

/** The convex outline of points in a plane, counter-clockwise against its normal (Andrew 1979); no corner is straight. */
export function convexOutline(points: readonly Vec3[], normal: Vec3, grain: number): readonly Vec3[] {
  const u = perpendicular(normal);
  const v = cross(normal, u);
  const sorted = points
    .map((point) => ({ point, x: dot(point, u), y: dot(point, v) }))
    .sort((a, b) => a.x - b.x || a.y - b.y);
  type Flat = (typeof sorted)[number];
  const turns = (a: Flat, b: Flat, c: Flat): boolean => {
    const area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    return area > grain * Math.hypot(c.x - a.x, c.y - a.y);
  };
  const half = (way: readonly Flat[]): Flat[] => {
    const kept: Flat[] = [];
    for (const next of way) {
      while (kept.length > 0 && Math.hypot(kept.at(-1)!.x - next.x, kept.at(-1)!.y - next.y) <= grain)
        kept.pop();
      while (kept.length > 1 && !turns(kept.at(-2)!, kept.at(-1)!, next)) kept.pop();
      kept.push(next);
    }
    return kept;
  };
  return [...half(sorted).slice(0, -1), ...half([...sorted].reverse()).slice(0, -1)].map(
    ({ point }) => point,
  );
}

/** An edge of the hull, and the outward normal of the one face at it that is known. */
interface OpenEdge {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly normal: Vec3;
}

/**
 * The normal of the plane through an edge that has all points behind it: of all planes through the edge and another
 * point the one that turns least away from a plane known to have them all behind it.
 */
function wrapped(points: readonly Vec3[], { from, to, normal }: OpenEdge, grain: number): Vec3 | undefined {
  const along = unit(subtract(to, from));
  const aside = cross(normal, along);
  let best: { readonly x: number; readonly y: number } | undefined;
  for (const point of points) {
    const off = subtract(point, from);
    // x: away from the known face, y: below its plane; the point sought lies at the least angle below that plane.
    const [x, depth] = [-dot(off, aside), -dot(off, normal)];
    const y = depth <= grain ? 0 : depth;
    if (Math.hypot(x, y) <= grain) continue;
    if (best === undefined || x * best.y - y * best.x > 0) best = { x, y };
  }
  if (best === undefined) return undefined;
  const way = add(scale(aside, -best.x), scale(normal, -best.y));
  return unit(cross(negate(along), way));
}

function faceAt(points: readonly Vec3[], normal: Vec3, through: Vec3, grain: number): HullFace {
  const level = dot(normal, through);
  const on = points.filter((point) => Math.abs(dot(normal, point) - level) <= grain);
  const corners = convexOutline(on, normal, grain);
  return { normal: withPlainZeros(normal), offset: level, corners };
}

/** A first face: from the plane x = least over a corner and an edge in it. */
function firstFace(points: readonly Vec3[], grain: number): HullFace {
  const start = [...points].sort(compareVectors)[0]!;
  const left: Vec3 = [-1, 0, 0];
  const edgeNormal = wrapped(points, { from: start, to: add(start, [0, 1, 0]), normal: left }, grain)!;
  // The plane found holds the line along y through the start; an edge of the hull in it is the axis of the next turn.
  const inPlane = faceAt(points, edgeNormal, start, grain);
  if (inPlane.corners.length >= 3) return inPlane;
  const other = points
    .filter((point) => Math.abs(dot(edgeNormal, subtract(point, start))) <= grain)
    .sort((a, b) => length(subtract(b, start)) - length(subtract(a, start)))[0]!;
  const edge = { from: start, to: other, normal: edgeNormal };
  return faceAt(points, wrapped(points, edge, grain)!, start, grain);
}

/**
 * The faces of the convex hull of points that do not all lie in one plane, each with all its corners however many:
 * gift wrapping (Chand and Kapur 1970) from edge to edge, so that coplanar corners become one face. In an order that
 * depends on the points alone.
 */
export function convexHull(points: readonly Vec3[]): readonly HullFace[] {
  const size = Math.max(...points.map((point) => length(subtract(point, points[0]!))));
  const grain = FLAT * size;
  const faces: HullFace[] = [];
  const known = (normal: Vec3, through: Vec3): HullFace | undefined =>
    faces.find(
      (face) =>
        dot(face.normal, normal) > 0 &&
        face.corners.every((corner) => Math.abs(dot(normal, subtract(corner, through))) <= 2 * grain),
    );
  const queue: OpenEdge[] = [];
  const found = (face: HullFace): void => {
    faces.push(face);
    face.corners.forEach((from, i) => {
      queue.push({ from, to: face.corners[(i + 1) % face.corners.length]!, normal: face.normal });
    });
  };
  found(firstFace(points, grain));
  while (queue.length > 0) {
    const edge = queue.shift()!;
    const normal = wrapped(points, edge, grain);
    if (normal === undefined) throw new RangeError('points in one plane have no hull');
    if (known(normal, edge.from) === undefined) found(faceAt(points, normal, edge.from, grain));
  }
  return faces;
}
