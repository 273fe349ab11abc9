import type { Point2 } from '../../geometry/outline.js';
import type { Vec3 } from '../../geometry/vector.js';
import { along, cross, dot, perpendicular } from '../../geometry/vector.js';
import type { SolidMesh, Triangle } from './solid-mesh.js';

/** Axes to look at a solid along `d`: u, v, d are right-handed. */
export interface SliceAxes {
  readonly u: Vec3;
  readonly v: Vec3;
  readonly d: Vec3;
}

export function sliceAxes(d: Vec3): SliceAxes {
  const u = perpendicular(d);
  return { u, v: cross(d, u), d };
}

export const flatPoint = ({ u, v }: SliceAxes, point: Vec3): Point2 => [dot(point, u), dot(point, v)];

/** A piece of the line in which a plane cuts a face. */
export interface SliceEdge {
  readonly face: number;
  readonly from: Point2;
  readonly to: Point2;
}

/** Where between two heights a solid is cut: no round share, so that no corner is likely to lie there. */
const SHARES = [0.4871, 0.5173, 0.4537, 0.5519];
/** Corners keep this far from the plane, mm; else another share is taken. */
const CLEAR = 1e-6;

/**
 * The closed lines in which a plane across `d` cuts a solid about half-way between two heights. Undefined where they do not close,
 * which those of a closed surface do.
 */
export function slice(
  { points, faces }: SolidMesh,
  axes: SliceAxes,
  [low, high]: readonly [number, number],
): readonly (readonly SliceEdge[])[] | undefined {
  const heights = points.map((point) => dot(point, axes.d));
  const level = SHARES.map((share) => low + share * (high - low)).find((at) =>
    heights.every((height) => Math.abs(height - at) > CLEAR),
  );
  if (level === undefined) return undefined;
  const cut: CutEdge[] = faces.flatMap(({ triangles }, face) =>
    triangles.flatMap((triangle) => cutTriangle(triangle, heights, level, points.length, face)),
  );
  const place = (key: number): Point2 => {
    const [a, b] = [Math.floor(key / points.length), key % points.length];
    const share = (level - heights[a]!) / (heights[b]! - heights[a]!);
    const [p, q] = [points[a]!, points[b]!];
    return flatPoint(axes, along(p, [q[0] - p[0], q[1] - p[1], q[2] - p[2]], share));
  };
  return chained(cut)?.map((loop) =>
    loop.map(({ face, from, to }) => ({ face, from: place(from), to: place(to) })),
  );
}

/** A piece of a cut between two edges of the mesh, each by its two points. */
interface CutEdge {
  readonly face: number;
  readonly from: number;
  readonly to: number;
}

function cutTriangle(
  triangle: Triangle,
  heights: readonly number[],
  level: number,
  count: number,
  face: number,
): readonly CutEdge[] {
  const above = triangle.map((i) => heights[i]! > level);
  let [from, to] = [-1, -1];
  for (let k = 0; k < 3; k += 1) {
    const [a, b] = [k, (k + 1) % 3];
    if (above[a] === above[b]) continue;
    const key = Math.min(triangle[a]!, triangle[b]!) * count + Math.max(triangle[a]!, triangle[b]!);
    if (above[a] === true) from = key;
    else to = key;
  }
  return from < 0 ? [] : [{ face, from, to }];
}

/** Pieces strung together into loops, each piece used once. */
function chained(pieces: readonly CutEdge[]): readonly (readonly CutEdge[])[] | undefined {
  const starting = new Map<number, CutEdge[]>();
  for (const piece of pieces) starting.set(piece.from, [...(starting.get(piece.from) ?? []), piece]);
  const loops: CutEdge[][] = [];
  for (const first of pieces) {
    if (starting.get(first.from)?.includes(first) !== true) continue;
    const loop: CutEdge[] = [];
    for (let at = first.from; loop.length === 0 || at !== first.from;) {
      const next = starting.get(at)?.shift();
      if (next === undefined) return undefined;
      loop.push(next);
      at = next.to;
    }
    loops.push(loop);
  }
  return loops;
}
