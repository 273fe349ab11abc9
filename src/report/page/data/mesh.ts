import type { ConvexPiece } from '../../../geometry/convex.js';
import type { PlanarFace, Solid } from '../../../geometry/solid.js';
import { distance, dot, type Vec3 } from '../../../geometry/vector.js';
import { facetsOf } from '../../facets.js';
import type { PageMesh } from '../page-data.js';
import { pagePoint } from './rounding.js';

/** Faces that meet at a smaller angle, degrees, are one surface to the eye: no line is drawn where they meet. */
const SMOOTH = Math.cos((10 * Math.PI) / 180);
/** Points nearer to a line than this lie on it, mm. */
const ON_LINE = 0.02;

/** Corners with numbers, each place once. */
class Corners {
  readonly coordinates: number[] = [];
  private readonly numbers = new Map<string, number>();

  number(corner: Vec3): number {
    const rounded = pagePoint(corner);
    const key = rounded.join(' ');
    let number = this.numbers.get(key);
    if (number === undefined) {
      number = this.numbers.size;
      this.numbers.set(key, number);
      this.coordinates.push(...rounded);
    }
    return number;
  }
}

/** A side of a facet and the faces that it bounds. */
interface Side {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly faces: PlanarFace[];
}

/** All outer sides of the faces, those that faces share found together. */
function sidesOf(faces: readonly PlanarFace[], corners: Corners): readonly Side[] {
  const sides = new Map<string, Side>();
  for (const face of faces)
    for (const { points, edges } of facetsOf(face, 0))
      points.forEach((from, i) => {
        if (!edges[i]) return;
        const to = points[(i + 1) % points.length]!;
        const key = [corners.number(from), corners.number(to)].sort((a, b) => a - b).join(' ');
        const side = sides.get(key) ?? { from, to, faces: [] };
        side.faces.push(face);
        sides.set(key, side);
      });
  return [...sides.values()];
}

/** Whether two faces that share a side go on from one to the other without an edge. */
const isSmooth = (a: PlanarFace, b: PlanarFace): boolean =>
  (a.curved !== undefined && b.curved !== undefined) || dot(a.normal, b.normal) > SMOOTH;

const isSharp = ({ faces }: Side): boolean =>
  faces.every((face, i) => faces.slice(0, i).every((other) => !isSmooth(face, other)));

const contains = (whole: Side, { from, to }: Side): boolean =>
  [from, to].every(
    (point) =>
      distance(whole.from, point) + distance(point, whole.to) - distance(whole.from, whole.to) < ON_LINE,
  );

/** Without those that are a piece of another: where one face meets several, its side is longer than theirs. */
function withoutPieces(sides: readonly Side[]): readonly Side[] {
  const kept: Side[] = [];
  const longestFirst = sides
    .map((side) => ({ side, size: distance(side.from, side.to) }))
    .sort((a, b) => b.size - a.size);
  for (const { side } of longestFirst) if (!kept.some((whole) => contains(whole, side))) kept.push(side);
  return kept;
}

/** Outer faces as a mesh: triangles fan out from the first corner of each convex polygon. */
function meshOfFaces(faces: readonly PlanarFace[]): PageMesh {
  const corners = new Corners();
  const triangles = faces.flatMap(({ polygons }) =>
    polygons.flatMap((polygon) => {
      const numbers = polygon.map((corner) => corners.number(corner));
      return numbers.slice(2).flatMap((last, i) => [numbers[0]!, numbers[i + 1]!, last]);
    }),
  );
  const edges = withoutPieces(sidesOf(faces, corners).filter(isSharp)).flatMap(({ from, to }) => [
    corners.number(from),
    corners.number(to),
  ]);
  return { corners: corners.coordinates, triangles, edges };
}

/** A mesh of the outside of a solid. */
export const meshOf = ({ faces }: Pick<Solid, 'faces'>): PageMesh => meshOfFaces(faces);

/** The sides of a frustum that stands for a round one have so many corners at most, its ends have more. */
const ROUND_CORNERS = 4;

function facesOf({ vertices, faces, planes }: ConvexPiece, round: boolean): readonly PlanarFace[] {
  return faces.map((loop, i) => {
    const polygon = loop.map((number) => vertices[number]!);
    const curved = round && loop.length <= ROUND_CORNERS;
    const middle = [polygon[0]!, polygon[1]!] as const;
    return { id: String(i), ...planes[i]!, polygons: [polygon], ...(curved && { curved: middle }) };
  });
}

/** A mesh of pieces, each with all of its faces; `round` ones are frusta that stand for round bodies. */
export const meshOfPieces = (pieces: readonly ConvexPiece[], round: boolean): PageMesh =>
  joinedMeshes(pieces.map((piece) => meshOfFaces(facesOf(piece, round))));

/** Meshes side by side as one. */
export const joinedMeshes = (meshes: readonly PageMesh[]): PageMesh =>
  meshes.reduce<PageMesh>(
    (all, { corners, triangles, edges }) => {
      const first = all.corners.length / 3;
      const shifted = (numbers: readonly number[]): readonly number[] => numbers.map((one) => one + first);
      return {
        corners: [...all.corners, ...corners],
        triangles: [...all.triangles, ...shifted(triangles)],
        edges: [...all.edges, ...shifted(edges)],
      };
    },
    { corners: [], triangles: [], edges: [] },
  );
