import type { PlanarFace } from './solid.js';
import { polygonContains } from './polygon.js';
import type { Vec3 } from './vector.js';
import { along, cross, distance, dot, length, scale, subtract } from './vector.js';

/** A straight run of the rim of a face. */
export type RimRun = readonly [Vec3, Vec3];

const GRAIN = 1e-6;

/** What of the way 0..size along a side is covered by sides of other polygons that lie on it. */
function covered(
  from: Vec3,
  way: Vec3,
  size: number,
  others: readonly (readonly Vec3[])[],
): [number, number][] {
  return others.flatMap((polygon) =>
    polygon.flatMap((a, i): [number, number][] => {
      const b = polygon[(i + 1) % polygon.length]!;
      const off = [a, b].map((p) => length(cross(subtract(p, from), way)));
      if (off.some((far) => far > GRAIN)) return [];
      const [p, q] = [a, b].map((point) => dot(subtract(point, from), way)).sort((s, t) => s - t);
      return q! > GRAIN && p! < size - GRAIN ? [[p!, q!]] : [];
    }),
  );
}

/** The rim of a face, holes included: the sides of its polygons less what two polygons share. */
export function faceRim({ polygons }: PlanarFace): readonly RimRun[] {
  return polygons.flatMap((polygon) => {
    const others = polygons.filter((other) => other !== polygon);
    return polygon.flatMap((from, i) => {
      const to = polygon[(i + 1) % polygon.length]!;
      const size = distance(from, to);
      if (size <= GRAIN) return [];
      const way = scale(subtract(to, from), 1 / size);
      const runs: RimRun[] = [];
      let at = 0;
      const shared = covered(from, way, size, others).sort((p, q) => p[0] - q[0]);
      for (const [low, high] of [...shared, [size, size] as const]) {
        if (low > at + GRAIN) runs.push([along(from, way, at), along(from, way, low)]);
        at = Math.max(at, high);
      }
      return runs;
    });
  });
}

function runDistance(point: Vec3, [a, b]: RimRun): number {
  const way = subtract(b, a);
  const share = Math.min(1, Math.max(0, dot(subtract(point, a), way) / dot(way, way)));
  return distance(point, along(a, way, share));
}

/** Rims that were worked out before, by face. */
const RIMS = new WeakMap<PlanarFace, readonly RimRun[]>();

/** Distance of a point in the plane of a face from its rim, mm: positive on the face, negative off it. */
export function roomOnFace(face: PlanarFace, point: Vec3): number {
  let rim = RIMS.get(face);
  if (!rim) {
    rim = faceRim(face);
    RIMS.set(face, rim);
  }
  const near = rim.reduce((least, run) => Math.min(least, runDistance(point, run)), Infinity);
  return face.polygons.some((polygon) => polygonContains(polygon, face.normal, point, GRAIN)) ? near : -near;
}
