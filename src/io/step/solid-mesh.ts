import type { Vec3 } from '../../geometry/vector.js';
import { add, cross, dot, length, scale, subtract } from '../../geometry/vector.js';
import type { RawMesh } from './raw-step.js';

/** Points nearer than this, mm, are one point; a face is flat when none of its corners is farther off its plane than twice this. */
export const SAME_POINT = 1e-3;

export type Triangle = readonly [number, number, number];

/** A face of a solid, as triangles. */
export interface MeshFace {
  readonly triangles: readonly Triangle[];
  readonly area: number;
  /** Outward normal and distance from the origin along it; undefined for a curved face. */
  readonly plane: { readonly normal: Vec3; readonly offset: number } | undefined;
}

/** The surface of one solid of a STEP file, in mm and in place; points of neighbouring faces are shared. */
export interface SolidMesh {
  readonly points: readonly Vec3[];
  readonly faces: readonly MeshFace[];
  /** mm3, by the divergence theorem. */
  readonly volume: number;
  /** Whether the surface encloses something: every edge of a triangle is run through once in either direction. */
  readonly closed: boolean;
}

/** Area of a triangle along its outward normal. */
export const areaVector = (points: readonly Vec3[], [a, b, c]: Triangle): Vec3 =>
  scale(cross(subtract(points[b]!, points[a]!), subtract(points[c]!, points[a]!)), 0.5);

/** Shares points that are at one place, and leaves out triangles that have no area then. */
export function solidMesh(raw: RawMesh): SolidMesh {
  const { points, at } = shared(raw.attributes.position.array);
  const triangles = trianglesOf(raw.index.array, at);
  const inside = volumeOf(points, definedOf(triangles)) < 0;
  const outward = (list: readonly (Triangle | undefined)[]): readonly Triangle[] =>
    definedOf(list).map((one) => (inside ? [one[0], one[2], one[1]] : one));
  const ranges = raw.brep_faces.length > 0 ? raw.brep_faces : [{ first: 0, last: triangles.length - 1 }];
  const faces = ranges
    .map(({ first, last }) => meshFace(points, outward(triangles.slice(first, last + 1))))
    .filter((face) => face.triangles.length > 0);
  const all = faces.flatMap((face) => face.triangles);
  return { points, faces, volume: volumeOf(points, all), closed: isClosed(all, points.length) };
}

const definedOf = (list: readonly (Triangle | undefined)[]): readonly Triangle[] =>
  list.filter((one) => one !== undefined);

function trianglesOf(index: readonly number[], at: readonly number[]): (Triangle | undefined)[] {
  return Array.from({ length: Math.floor(index.length / 3) }, (_, i) => {
    const [a, b, c] = [0, 1, 2].map((k) => at[index[3 * i + k]!]);
    if (a === undefined || b === undefined || c === undefined) return undefined;
    return a === b || b === c || c === a ? undefined : [a, b, c];
  });
}

/** Points by their place, and for each given point the number of its place. */
function shared(array: readonly number[]): {
  readonly points: readonly Vec3[];
  readonly at: readonly number[];
} {
  const points: Vec3[] = [];
  const cells = new Map<string, number>();
  const at = Array.from({ length: Math.floor(array.length / 3) }, (_, i) => {
    const point: Vec3 = [array[3 * i]!, array[3 * i + 1]!, array[3 * i + 2]!];
    const keys = nearCells(point);
    const known = keys.map((key) => cells.get(key)).find((one) => one !== undefined);
    if (known !== undefined) return known;
    cells.set(keys[0]!, points.length);
    return points.push(point) - 1;
  });
  return { points, at };
}

/** The cell a point is in, and those next to it on the side to which it is nearer; cells are twice `SAME_POINT` wide. */
function nearCells(point: Vec3): string[] {
  const cells = (x: number): readonly [number, number] => {
    const cell = Math.floor(x / (2 * SAME_POINT));
    return [cell, x / (2 * SAME_POINT) - cell < 0.5 ? cell - 1 : cell + 1];
  };
  const [y, z] = [cells(point[1]), cells(point[2])];
  return cells(point[0]).flatMap((i) => y.flatMap((j) => z.map((k) => `${i} ${j} ${k}`)));
}

function volumeOf(points: readonly Vec3[], triangles: readonly Triangle[]): number {
  const origin = points[0] ?? [0, 0, 0];
  return triangles.reduce((sum, corners) => {
    const [a, b, c] = corners.map((i) => subtract(points[i]!, origin)) as [Vec3, Vec3, Vec3];
    return sum + dot(a, cross(b, c)) / 6;
  }, 0);
}

function isClosed(triangles: readonly Triangle[], count: number): boolean {
  const balance = new Map<number, number>();
  for (const triangle of triangles)
    for (let k = 0; k < 3; k += 1) {
      const [a, b] = [triangle[k]!, triangle[(k + 1) % 3]!];
      const key = Math.min(a, b) * count + Math.max(a, b);
      balance.set(key, (balance.get(key) ?? 0) + (a < b ? 1 : -1));
    }
  return triangles.length > 3 && [...balance.values()].every((sum) => sum === 0);
}

function meshFace(points: readonly Vec3[], triangles: readonly Triangle[]): MeshFace {
  const vectors = triangles.map((triangle) => areaVector(points, triangle));
  const area = vectors.reduce((sum, vector) => sum + length(vector), 0);
  const sum = vectors.reduce(add, [0, 0, 0]);
  const size = length(sum);
  if (size < 0.5 * area || area === 0) return { triangles, area, plane: undefined };
  const normal = scale(sum, 1 / size);
  const depths = triangles.flat().map((i) => dot(points[i]!, normal));
  const [low, high] = extremes(depths);
  const flat = high - low <= 4 * SAME_POINT;
  return { triangles, area, plane: flat ? { normal, offset: (low + high) / 2 } : undefined };
}

/** Least and greatest of numbers, of any count. */
export function extremes(values: readonly number[]): readonly [number, number] {
  return values.reduce<readonly [number, number]>(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Infinity, -Infinity],
  );
}
