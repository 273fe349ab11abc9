import type { Point2 } from '../../geometry/outline.js';
import { signedArea } from '../../geometry/outline.js';
import type { Vec3 } from '../../geometry/vector.js';
import { add, cross, dot, negate, subtract } from '../../geometry/vector.js';
import { chordOutline, MOST_CORNERS } from './chords.js';
import type { Contour } from './contour.js';
import type { Extrusion } from './extrusion.js';
import { plainest } from './frame-choice.js';
import { mm } from './millimetres.js';
import { directionIn, lengthOf, pointIn } from './placing.js';
import type { Draft, UnknownSolid } from './recognised.js';
import { extremes } from './solid-mesh.js';

/** Sides are along or across each other up to this cosine or sine. */
const SQUARE = 1e-6;
/** As many holes as a plate may have. */
const MOST_HOLES = 50;

interface Outlined {
  readonly corners: readonly Vec3[];
  readonly holes: readonly ({ readonly centre: Vec3; readonly diameter: number } | readonly Vec3[])[];
  /** Length of the section drawn out, mm, and its direction. */
  readonly depth: number;
  readonly d: Vec3;
  readonly notes: readonly string[];
}

/** A solid as a plate of any outline, with holes, or as a prism where it is longer than its section is wide. */
export function cutPart(extrusion: Extrusion): Draft | UnknownSolid {
  const outline = chordOutline(extrusion.outer);
  const holes = extrusion.holes.map((hole) => (hole.circle ? undefined : chordOutline(hole)));
  if (outline === undefined || extrusion.holes.some(({ circle }, i) => !circle && !holes[i]))
    return { kind: 'unknown', seen: `a section with more than ${MOST_CORNERS} corners` };
  if (holes.length > MOST_HOLES)
    return {
      kind: 'unknown',
      seen: `a plate with ${holes.length} holes, of which ${MOST_HOLES} may be given`,
    };
  const deviation = Math.max(outline.deviation, ...holes.map((hole) => hole?.deviation ?? 0));
  const place = (point: Point2): Vec3 => pointIn(extrusion, point);
  const outlined: Outlined = {
    corners: outline.corners.map(place),
    holes: extrusion.holes.map(({ circle }, i) =>
      circle ? { centre: place(circle.centre), diameter: 2 * circle.radius } : holes[i]!.corners.map(place),
    ),
    depth: lengthOf(extrusion),
    d: extrusion.axes.d,
    notes: deviation > 0 ? [`arcs stand as chords, at most ${round(deviation)} mm off`] : [],
  };
  const along = directionIn(extrusion, mainSide(extrusion.outer));
  return drafted(outlined, along);
}

const round = (value: number): number => Math.ceil(value * 100) / 100;

/**
 * Direction of the straight side along or across which most of the outline runs, so that a plate lies as its square corners do; the
 * first axis of the section where there is none.
 */
function mainSide({ pieces }: Contour): Point2 {
  const straight = pieces.flatMap(({ from, to, arc }) => {
    const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const way: Point2 = [(to[0] - from[0]) / size, (to[1] - from[1]) / size];
    return arc === undefined ? [{ size, way }] : [];
  });
  let [most, main]: [number, Point2] = [0, [1, 0]];
  for (const { way } of straight) {
    const square = straight.filter((other) => {
      const [along, across] = [
        way[0] * other.way[0] + way[1] * other.way[1],
        way[0] * other.way[1] - way[1] * other.way[0],
      ];
      return Math.min(Math.abs(along), Math.abs(across)) < SQUARE;
    });
    const total = square.reduce((sum, { size }) => sum + size, 0);
    if (total > most + 1e-6) [most, main] = [total, way];
  }
  return main;
}

function drafted(outlined: Outlined, side: Vec3): Draft {
  const { corners, depth, d } = outlined;
  const across = cross(d, side);
  const spans = [side, across].map((axis) => extremes(corners.map((corner) => dot(corner, axis))));
  const least = Math.min(...spans.map(([low, high]) => high - low));
  const sides = [side, negate(side), across, negate(across)];
  const plate = depth <= least || outlined.holes.length > 0;
  const frames = [d, negate(d)].flatMap((axis) =>
    sides.map((one): readonly [Vec3, Vec3, readonly [Vec3, Vec3]] =>
      plate ? [one, cross(axis, one), [one, cross(axis, one)]] : [axis, one, [one, cross(axis, one)]],
    ),
  );
  const { choice, turn } = plainest(frames);
  const at = middleOf(corners, choice, d);
  const flat = (point: Vec3): Point2 => {
    const off = subtract(point, at);
    return [mm(dot(off, choice[0])), mm(dot(off, choice[1]))];
  };
  const outline = inOrder(corners.map(flat));
  if (!plate) {
    const sizes = { length: mm(depth), outline };
    return { key: 'prism', sizes, at, turn, notes: outlined.notes };
  }
  const size = rectangleOf(outline) ?? { outline };
  const holes = outlined.holes.map((hole) =>
    'diameter' in hole
      ? { at: flat(hole.centre), diameter: mm(hole.diameter) }
      : { outline: inOrder(hole.map(flat)) },
  );
  const sizes = { ...size, thickness: mm(depth), ...(holes.length > 0 && { holes: sorted(holes) }) };
  const deep = depth > least ? [`drawn as a plate ${mm(depth)} mm thick, since only plates have holes`] : [];
  return { key: 'plate', sizes, at, turn, notes: [...outlined.notes, ...deep] };
}

/** The middle of the box around points, in the axes of the outline and half-way along the section. */
function middleOf(points: readonly Vec3[], axes: readonly Vec3[], d: Vec3): Vec3 {
  const all = [...axes, d];
  return all
    .map((axis) => {
      const [low, high] = extremes(points.map((point) => dot(point, axis)));
      return axis.map((x) => (x * (low + high)) / 2) as unknown as Vec3;
    })
    .reduce(add);
}

/** Counter-clockwise, beginning at the corner with the least first coordinate, and of these at the lowest. */
function inOrder(corners: readonly Point2[]): readonly Point2[] {
  const turned = signedArea(corners) > 0 ? corners : corners.toReversed();
  const first = turned.reduce((best, [x, y], i) => {
    const [u, v] = turned[best]!;
    return x < u || (x === u && y < v) ? i : best;
  }, 0);
  return [...turned.slice(first), ...turned.slice(0, first)];
}

/** Length and width of an outline that is the whole rectangle round it. */
function rectangleOf(
  corners: readonly Point2[],
): { readonly length: number; readonly width: number } | undefined {
  const [[x0, x1], [y0, y1]] = [0, 1].map((k) => extremes(corners.map((corner) => corner[k]!))) as [
    readonly [number, number],
    readonly [number, number],
  ];
  const isCorner = ([x, y]: Point2): boolean => (x === x0 || x === x1) && (y === y0 || y === y1);
  return corners.length === 4 && corners.every(isCorner)
    ? { length: mm(x1 - x0), width: mm(y1 - y0) }
    : undefined;
}

type HoleSizes = { readonly at: Point2; readonly diameter: number } | { readonly outline: readonly Point2[] };

/** Holes from left to right, and from below up, whatever order the file has them in. */
function sorted(holes: readonly HoleSizes[]): readonly HoleSizes[] {
  const place = (hole: HoleSizes): Point2 => ('at' in hole ? hole.at : hole.outline[0]!);
  return [...holes].sort((a, b) => place(a)[0] - place(b)[0] || place(a)[1] - place(b)[1]);
}
