import { rounded } from '../base/order.js';
import { boundsApart } from './bounds.js';
import type { Polygon } from './polygon.js';
import { intersectPolygons, polygonArea, polygonCentroid } from './polygon.js';
import type { PlanarFace, Solid } from './solid.js';
import type { Vec3 } from './vector.js';
import { add, dot, length, subtract } from './vector.js';

/** Where a face of one solid lies opposite a face of another, near enough to touch or to be joined. */
export interface Patch {
  readonly faceA: string;
  readonly faceB: string;
  /** Outward normal of face a: from a into b. */
  readonly normal: Vec3;
  /** Distance from face a to face b at the middle of the patch, mm; negative when b reaches into a. */
  readonly gap: number;
  /** Convex, on face a, counter-clockwise seen from b. */
  readonly polygon: Polygon;
  /** mm2. */
  readonly area: number;
}

/** Faces may reach into each other by this much and still count as touching, mm. */
export const TOUCHING = 0.02;
/** Two faces are opposed when their normals add up to less than this. */
const OPPOSED = 1e-6;
/** Smaller patches carry and join nothing, mm2. */
const LEAST_AREA = 1;
/** Gaps and areas are rounded to this many decimals before they are compared. */
const DIGITS = 6;
const GAP_GRAIN = 1e-6;

/** Signed distance of a point in front of a face's plane, mm. */
const inFront = (face: PlanarFace, point: Vec3): number => dot(face.normal, point) - face.offset;

function patchesOfFaces(a: PlanarFace, b: PlanarFace, gap: number): Patch[] {
  const found: Patch[] = [];
  for (const polygonA of a.polygons)
    for (const polygonB of b.polygons) {
      const polygon = intersectPolygons(polygonA, polygonB, b.normal);
      if (polygon.length < 3) continue;
      const area = rounded(polygonArea(polygon), DIGITS);
      if (area < LEAST_AREA) continue;
      const apart = rounded(inFront(b, polygonCentroid(polygon)), DIGITS);
      if (apart < -TOUCHING - GAP_GRAIN / 2 || apart > gap + GAP_GRAIN / 2) continue;
      found.push({ faceA: a.id, faceB: b.id, normal: a.normal, gap: apart, polygon, area });
    }
  return found;
}

/** Whether two faces look at each other and can be near enough, allowing for a little tilt over their length. */
function mayMeet(a: PlanarFace, b: PlanarFace, gap: number): boolean {
  if (length(add(a.normal, b.normal)) >= OPPOSED) return false;
  const [cornerA, cornerB] = [a.polygons[0]![0]!, b.polygons[0]![0]!];
  const tilt = OPPOSED * (1 + length(subtract(cornerA, cornerB)));
  const apart = inFront(a, cornerB);
  return apart >= -TOUCHING - tilt && apart <= gap + tilt;
}

/**
 * The patches between two solids whose opposed faces are at most `gap` mm apart (and reach into each other by at most
 * 0.02 mm), in the order of the faces of a, then of b, then of their polygons.
 */
export function facePatches(a: Solid, b: Solid, gap: number): readonly Patch[] {
  if (boundsApart(a.bounds, b.bounds, -gap - GAP_GRAIN)) return [];
  const found: Patch[] = [];
  for (const faceA of a.faces)
    for (const faceB of b.faces)
      if (mayMeet(faceA, faceB, gap)) found.push(...patchesOfFaces(faceA, faceB, gap));
  return found;
}
