import type { Point2 } from '../../geometry/outline.js';
import { segmentDistance, signedArea, turnSine } from '../../geometry/outline.js';
import type { SliceEdge } from './slice.js';
import { SAME_POINT } from './solid-mesh.js';

export interface Circle {
  readonly centre: Point2;
  readonly radius: number;
}

/** A straight or round piece of the line round a section; `left` when it turns counter-clockwise about its centre. */
export type Piece = {
  readonly from: Point2;
  readonly to: Point2;
  readonly arc?: Circle & { readonly left: boolean };
};

/** A closed line round a section or round a hole in it. */
export interface Contour {
  readonly pieces: readonly Piece[];
  /** Where it is one whole circle. */
  readonly circle: Circle | undefined;
  /** Of the corners of the mesh, mm2; positive when they turn counter-clockwise. */
  readonly chordArea: number;
  /** Within lines and arcs, mm2, never negative. */
  readonly area: number;
}

const apart = (a: Point2, b: Point2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/**
 * The circle that comes nearest to points in the sense of least squares of (x - a)^2 + (y - b)^2 - r^2, which is a linear
 * problem; undefined where the points are on a line or farther than `SAME_POINT` off it.
 */
export function circleThrough(points: readonly Point2[]): Circle | undefined {
  const n = points.length;
  if (n < 3) return undefined;
  const middle = [0, 1].map((k) => points.reduce((sum, p) => sum + p[k as 0 | 1], 0) / n) as [number, number];
  let [uu, uv, vv, uq, vq, q] = [0, 0, 0, 0, 0, 0];
  for (const point of points) {
    const [u, v] = [point[0] - middle[0], point[1] - middle[1]];
    const square = u * u + v * v;
    [uu, uv, vv] = [uu + u * u, uv + u * v, vv + v * v];
    [uq, vq, q] = [uq + u * square, vq + v * square, q + square];
  }
  const det = uu * vv - uv * uv;
  if (det <= 1e-12 * (uu + vv) ** 2) return undefined;
  const [a, b] = [(uq * vv - vq * uv) / (2 * det), (vq * uu - uq * uv) / (2 * det)];
  const centre: Point2 = [middle[0] + a, middle[1] + b];
  const radius = Math.sqrt(q / n + a * a + b * b);
  const off = points.reduce((most, point) => Math.max(most, Math.abs(apart(point, centre) - radius)), 0);
  return off <= SAME_POINT ? { centre, radius } : undefined;
}

/** Whether two circles are one. */
const sameCircle = (a: Circle, b: Circle): boolean =>
  apart(a.centre, b.centre) < 5 * SAME_POINT && Math.abs(a.radius - b.radius) < 5 * SAME_POINT;

/**
 * The pieces of a closed line: one for each flat face that it runs over, an arc for each face that is part of a cylinder (by
 * `circleOf`), the chords of the mesh for any other. Pieces in one line, and arcs of one circle, become one.
 */
export function contourOf(
  loop: readonly SliceEdge[],
  flat: (face: number) => boolean,
  circleOf: (face: number) => Circle | undefined,
): Contour {
  const edges = loop.filter(({ from, to }) => apart(from, to) > SAME_POINT / 10);
  const chordArea = edges.length < 3 ? 0 : signedArea(edges.map(({ from }) => from));
  const pieces = merged(runsOf(edges).flatMap((run) => piecesOf(run, flat, circleOf)));
  const first = pieces[0]?.arc;
  const whole = first !== undefined && pieces.every(({ arc }) => arc && sameCircle(arc, first));
  if (whole) return wholeCircle(first, chordArea);
  return { pieces, circle: undefined, chordArea, area: Math.abs(areaWithin(pieces)) };
}

function wholeCircle({ centre, radius, left }: NonNullable<Piece['arc']>, chordArea: number): Contour {
  const from: Point2 = [centre[0] + radius, centre[1]];
  const circle = { centre, radius };
  const pieces = [{ from, to: from, arc: { ...circle, left } }];
  return { pieces, circle, chordArea, area: Math.PI * radius ** 2 };
}

/** Angle by which an arc goes round its centre, radians, 0 to 2 pi. */
export function spanOf(from: Point2, to: Point2, { centre, left }: NonNullable<Piece['arc']>): number {
  const [start, end] = [from, to].map(([u, v]) => Math.atan2(v - centre[1], u - centre[0])) as [
    number,
    number,
  ];
  const turned = left ? end - start : start - end;
  return turned <= 1e-9 ? turned + 2 * Math.PI : turned;
}

/** Area of the polygon of the ends of all pieces, and for each arc what lies between it and its chord. */
function areaWithin(pieces: readonly Piece[]): number {
  const polygon = pieces.length < 3 ? 0 : signedArea(pieces.map(({ from }) => from));
  return pieces.reduce((sum, { from, to, arc }) => {
    if (arc === undefined) return sum;
    const span = spanOf(from, to, arc);
    return sum + ((arc.left ? 1 : -1) * arc.radius ** 2 * (span - Math.sin(span))) / 2;
  }, polygon);
}

/** Consecutive edges of one face, begun where the face changes. */
function runsOf(edges: readonly SliceEdge[]): readonly (readonly SliceEdge[])[] {
  const start = Math.max(
    0,
    edges.findIndex(({ face }, i) => face !== edges.at(i - 1)!.face),
  );
  const turned = [...edges.slice(start), ...edges.slice(0, start)];
  const runs: SliceEdge[][] = [];
  for (const edge of turned)
    if (runs.at(-1)?.[0]!.face === edge.face) runs.at(-1)!.push(edge);
    else runs.push([edge]);
  return runs;
}

function piecesOf(
  run: readonly SliceEdge[],
  flat: (face: number) => boolean,
  circleOf: (face: number) => Circle | undefined,
): readonly Piece[] {
  const [{ face, from, to: next }, to] = [run[0]!, run.at(-1)!.to];
  if (flat(face)) return [{ from, to }];
  const circle = circleOf(face);
  if (circle === undefined) return run.map((edge) => ({ from: edge.from, to: edge.to }));
  const left = turnSine(circle.centre, from, next) > 0;
  return [{ from, to, arc: { ...circle, left } }];
}

/** Whether `b` goes on in the line or on the circle of `a`. */
function goesOn(a: Piece, b: Piece): boolean {
  if (a.arc !== undefined || b.arc !== undefined)
    return (
      a.arc !== undefined && b.arc !== undefined && a.arc.left === b.arc.left && sameCircle(a.arc, b.arc)
    );
  const forth = (a.to[0] - a.from[0]) * (b.to[0] - b.from[0]) + (a.to[1] - a.from[1]) * (b.to[1] - b.from[1]);
  return forth > 0 && segmentDistance(a.to, a.from, b.to) < SAME_POINT / 2;
}

function merged(pieces: readonly Piece[]): readonly Piece[] {
  const kept: Piece[] = [];
  for (const piece of pieces.filter(({ from, to, arc }) => arc !== undefined || apart(from, to) > SAME_POINT))
    if (kept.length > 0 && goesOn(kept.at(-1)!, piece)) kept.push({ ...kept.pop()!, to: piece.to });
    else kept.push(piece);
  if (kept.length > 2 && goesOn(kept.at(-1)!, kept[0]!)) {
    const last = kept.pop()!;
    kept[0] = { ...kept[0]!, from: last.from };
  }
  return kept;
}
