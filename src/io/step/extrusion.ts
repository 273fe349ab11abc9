import { encloses } from '../../geometry/outline.js';
import type { Vec3 } from '../../geometry/vector.js';
import { dot } from '../../geometry/vector.js';
import type { Circle, Contour } from './contour.js';
import { circleThrough, contourOf } from './contour.js';
import type { SliceAxes } from './slice.js';
import { flatPoint, slice, sliceAxes } from './slice.js';
import type { MeshFace, SolidMesh } from './solid-mesh.js';
import { areaVector, extremes, SAME_POINT } from './solid-mesh.js';

/** A solid taken for a section drawn out. */
export interface Extrusion {
  readonly axes: SliceAxes;
  /** Heights of its ends along `axes.d`, mm. */
  readonly ends: readonly [number, number];
  readonly outer: Contour;
  readonly holes: readonly Contour[];
  /** Whether every face is an end or a side; else it only comes close. */
  readonly exact: boolean;
  /** By how much of the solid's volume the section drawn out has more than it; 0 where exact. */
  readonly excess: number;
}

/** So many directions are tried, those of the largest flat faces first (our choice). */
const MOST_DIRECTIONS = 12;
/** A side may lean by so much, as a slope: 0.01 mm in a metre. */
const LEAN = 1e-5;
/** A solid comes close to a section drawn out when volumes differ by no more than this share, and sizes by no more than these mm (our choice). */
const CLOSE = { volume: 0.05, size: 1 } as const;

/** The section drawn out in each direction in which a solid is one; else in those in which it comes close, the closest first. */
export function extrusionsOf(mesh: SolidMesh): readonly Extrusion[] {
  const all = directions(mesh.faces).flatMap((d) => extrusionAlong(mesh, d) ?? []);
  const exact = all.filter((one) => one.exact);
  return exact.length > 0 ? exact : all.sort((a, b) => Math.abs(a.excess) - Math.abs(b.excess));
}

/** Normals of flat faces, either way counting as one, by the area that has them. */
function directions(faces: readonly MeshFace[]): readonly Vec3[] {
  const found: { readonly normal: Vec3; area: number }[] = [];
  for (const { plane, area } of faces) {
    if (plane === undefined) continue;
    const known = found.find(({ normal }) => Math.abs(dot(normal, plane.normal)) > 1 - 1e-9);
    if (known) known.area += area;
    else if (found.length < 50 * MOST_DIRECTIONS) found.push({ normal: plane.normal, area });
  }
  return found
    .sort((a, b) => b.area - a.area)
    .slice(0, MOST_DIRECTIONS)
    .map(({ normal }) => normal);
}

function extrusionAlong(mesh: SolidMesh, d: Vec3): Extrusion | undefined {
  const ends = extremes(mesh.points.map((point) => dot(point, d)));
  const axes = sliceAxes(d);
  const circleOf = circlesAlong(mesh, axes);
  const isRound = (face: MeshFace, i: number): boolean =>
    face.plane === undefined && circleOf(i) !== undefined;
  const exact = mesh.faces.every(
    (face, i) => isEnd(mesh, face, d, ends) || isSide(mesh, face, d) || isRound(face, i),
  );
  const loops = slice(mesh, axes, ends);
  if (loops === undefined || loops.length === 0) return undefined;
  const contours = loops.map((loop) =>
    contourOf(loop, (face) => mesh.faces[face]!.plane !== undefined, circleOf),
  );
  const [outer, ...holes] = contours.sort((a, b) => Math.abs(b.chordArea) - Math.abs(a.chordArea));
  if (outer === undefined || !holes.every((hole) => within(hole, outer))) return undefined;
  const area = Math.abs(outer.chordArea) - holes.reduce((sum, hole) => sum + Math.abs(hole.chordArea), 0);
  const excess = exact ? 0 : (area * (ends[1] - ends[0])) / mesh.volume - 1;
  const close = Math.abs(excess) <= CLOSE.volume && reaches(mesh, axes, outer);
  return exact || close ? { axes, ends, outer, holes, exact, excess } : undefined;
}

/** A contour the other way round within the outer one: several outer ones are several pieces, not a section. */
const within = (hole: Contour, outer: Contour): boolean =>
  hole.pieces.length > 0 &&
  Math.sign(hole.chordArea) !== Math.sign(outer.chordArea) &&
  (outer.circle !== undefined ||
    encloses(
      outer.pieces.map(({ from }) => from),
      hole.pieces[0]!.from,
    ));

function isEnd(
  { points }: SolidMesh,
  { triangles, plane }: MeshFace,
  d: Vec3,
  ends: readonly number[],
): boolean {
  if (plane === undefined || Math.abs(dot(plane.normal, d)) < 0.5) return false;
  const heights = triangles.flat().map((i) => dot(points[i]!, d));
  return ends.some((end) => heights.every((height) => Math.abs(height - end) <= 2 * SAME_POINT));
}

function isSide({ points }: SolidMesh, { triangles, area }: MeshFace, d: Vec3): boolean {
  const lean = triangles.reduce((sum, one) => sum + Math.abs(dot(areaVector(points, one), d)), 0);
  return lean <= LEAN * area;
}

/** The circle that a curved face is seen as along `d`, worked out once a face. */
function circlesAlong({ points, faces }: SolidMesh, axes: SliceAxes): (face: number) => Circle | undefined {
  const known = new Map<number, Circle | undefined>();
  return (face) => {
    if (!known.has(face)) {
      const corners = [...new Set(faces[face]!.triangles.flat())].map((i) => flatPoint(axes, points[i]!));
      known.set(face, circleThrough(corners));
    }
    return known.get(face);
  };
}

/** Whether a section is as wide as the solid, seen along `d`. */
function reaches({ points }: SolidMesh, axes: SliceAxes, outer: Contour): boolean {
  if (outer.circle !== undefined) return true;
  const solid = points.map((point) => flatPoint(axes, point));
  const section = outer.pieces.flatMap(({ from, to }) => [from, to]);
  return ([0, 1] as const).every((k) => {
    const [all, cut] = [solid, section].map((list) => extremes(list.map((point) => point[k])));
    return cut![0] - all![0] <= CLOSE.size && all![1] - cut![1] <= CLOSE.size;
  });
}
