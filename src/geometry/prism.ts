import type { ConvexPiece } from './convex.js';
import { convexPiece } from './convex.js';
import type { Point2 } from './outline.js';
import { signedArea } from './outline.js';
import type { PrismAxis, Section } from './section.js';
import { inPrism, prismMass } from './section.js';
import type { PlanarFace, Solid } from './solid.js';
import { makeSolid } from './solid.js';
import type { Vec3 } from './vector.js';
import { dot, unit, withPlainZeros } from './vector.js';

/** One closed line of a section, its outline or a hole, with the names of the faces that its sides become. */
export interface Loop {
  /** Either way round. */
  readonly corners: readonly Point2[];
  /** Name of the face over the side from corner `i` to the next, corners counted as given from 0. */
  readonly side: (i: number) => string;
  /** Whether the loop stands for a circle. */
  readonly curved: boolean;
}

export interface PrismPlan {
  readonly axis: PrismAxis;
  /** Along the axis, half to either side of the section's plane, mm. */
  readonly length: number;
  readonly outline: Loop;
  readonly holes: readonly Loop[];
  /** Convex polygons that make up the section, touching but not overlapping. */
  readonly parts: readonly (readonly Point2[])[];
  /** Area and moments of the true section. */
  readonly section: Section;
}

const OUTER = ['+x', '-x', '+y', '-y', '+z', '-z'];

const reversed = <T>(items: readonly T[], back: boolean): readonly T[] =>
  back ? [...items].reverse() : items;

function pieceOf({ axis, length }: PrismPlan, polygon: readonly Point2[]): ConvexPiece {
  const n = polygon.length;
  const numbers = polygon.map((_, i) => i);
  const [low, high] = [-0.5, 0.5].map((share) => polygon.map((at) => inPrism(axis, at, share * length)));
  const sides = numbers.map((i) => [i, (i + 1) % n, n + ((i + 1) % n), n + i]);
  return convexPiece([...low!, ...high!], [numbers, numbers.map((i) => n + i), ...sides]);
}

function endFace({ axis, length, parts }: PrismPlan, sign: 1 | -1): PlanarFace {
  const normal = withPlainZeros(inPrism(axis, [0, 0], sign));
  const polygons = parts.map((part) =>
    reversed(
      part.map((at) => inPrism(axis, at, (sign * length) / 2)),
      sign < 0,
    ),
  );
  return { id: `${sign > 0 ? '+' : '-'}${axis}`, normal, offset: length / 2, polygons };
}

/** The faces over the sides of a loop; `hole` tells on which side the matter is. */
function sideFaces({ axis, length }: PrismPlan, loop: Loop, hole: boolean): PlanarFace[] {
  const { corners, side, curved } = loop;
  const n = corners.length;
  const back = signedArea(corners) > 0 === hole;
  return corners.map((corner, i) => {
    const next = corners[(i + 1) % n]!;
    const [p, q] = back ? [next, corner] : [corner, next];
    const out: Point2 = [q[1] - p[1], p[0] - q[0]];
    const normal = withPlainZeros(unit(inPrism(axis, out, 0)));
    const at = (point: Point2, share: number): Vec3 => inPrism(axis, point, share * length);
    const polygon = [at(p, -0.5), at(q, -0.5), at(q, 0.5), at(p, 0.5)];
    const middle: Point2 = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    return {
      id: side(i),
      normal,
      offset: dot(normal, polygon[0]!),
      polygons: [polygon],
      ...(curved ? { curved: [at(middle, -0.5), at(middle, 0.5)] as const } : {}),
    };
  });
}

const rank = ({ id }: PlanarFace): number => {
  const at = OUTER.indexOf(id);
  return at < 0 ? OUTER.length : at;
};

/**
 * A section drawn out to both sides of its plane. Ends are named after the axis (`+x`, `-x` or `+z`, `-z`), the other
 * faces by the loops; `+x` to `-z` come first. Volume, centre and inertia are those of the true section.
 */
export function prism(plan: PrismPlan): Solid {
  const faces = [
    endFace(plan, 1),
    endFace(plan, -1),
    ...sideFaces(plan, plan.outline, false),
    ...plan.holes.flatMap((hole) => sideFaces(plan, hole, true)),
  ];
  return makeSolid(
    plan.parts.map((part) => pieceOf(plan, part)),
    faces.sort((a, b) => rank(a) - rank(b)),
    prismMass(plan.axis, plan.length, plan.section),
  );
}

/**
 * Names for the sides of an outline: a side that is a whole side of the bounding box is named after the way it looks
 * (`+x`), any other `side-1`, `side-2`, ... after the corner it starts at.
 */
export function sideNames(axis: PrismAxis, corners: readonly Point2[]): (i: number) => string {
  const low = [0, 1].map((k) => Math.min(...corners.map((corner) => corner[k as 0 | 1])));
  const high = [0, 1].map((k) => Math.max(...corners.map((corner) => corner[k as 0 | 1])));
  const letters = axis === 'x' ? ['y', 'z'] : ['x', 'y'];
  return (i) => {
    const [p, q] = [corners[i]!, corners[(i + 1) % corners.length]!];
    for (const k of [0, 1] as const) {
      const along = k === 0 ? 1 : 0;
      const whole = Math.abs(p[along] - q[along]) === high[along]! - low[along]!;
      if (p[k] !== q[k] || !whole) continue;
      if (p[k] === high[k]) return `+${letters[k]}`;
      if (p[k] === low[k]) return `-${letters[k]}`;
    }
    return `side-${i + 1}`;
  };
}
