import type { Point2 } from '../../geometry/outline.js';
import { turnOf } from '../../geometry/outline.js';

/** Sizes that belong together may differ by so much, mm. */
const EQUAL = 0.01;

interface Sized {
  readonly width: number;
  readonly height: number;
  /** The middle of the rectangle around it. */
  readonly centre: Point2;
  /** Along which `width` lies, a unit vector. */
  readonly y: Point2;
}

export interface RectangleSection extends Sized {
  readonly kind: 'rectangle';
}

/** `y` and `z` look along the legs, from the heel. */
export interface AngleSection extends Sized {
  readonly kind: 'angle';
  readonly thickness: number;
  readonly z: Point2;
}

/** `height` goes over both flanges; a channel is open to `y`. */
export interface FlangedSection extends Sized {
  readonly kind: 'channel' | 'i-section';
  readonly web: number;
  readonly flange: number;
}

/** A section with its sizes in mm, and which way it lies in the axes of the outline. */
export type MatchedSection = RectangleSection | AngleSection | FlangedSection;

const equal = (a: number, b: number): boolean => Math.abs(a - b) <= EQUAL;
const minus = (a: Point2, b: Point2): Point2 => [a[0] - b[0], a[1] - b[1]];
const size = (a: Point2): number => Math.hypot(a[0], a[1]);
const middle = (a: Point2, b: Point2): Point2 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
const unit2 = (a: Point2): Point2 => [a[0] / size(a), a[1] / size(a)];

/** A polygon of right angles only, its corners counter-clockwise, that can be read from any corner on. */
class Rectilinear {
  readonly n: number;
  /** Whether the polygon turns to the left at each corner. */
  readonly left: readonly boolean[];

  constructor(private readonly corners: readonly Point2[]) {
    this.n = corners.length;
    this.left = corners.map((b, i) => turnOf(corners.at(i - 1)!, b, corners[(i + 1) % this.n]!) > 0);
  }

  at(i: number): Point2 {
    return this.corners[((i % this.n) + this.n) % this.n]!;
  }

  /** Length of the side from corner i to the next. */
  side(i: number): number {
    return size(minus(this.at(i + 1), this.at(i)));
  }

  /** The corners at which it turns to the right. */
  get inner(): readonly number[] {
    return this.left.flatMap((left, i) => (left ? [] : [i]));
  }
}

/** Undefined where a corner is not square: a side leans by more than its neighbour's length lets pass. */
function rectilinear(corners: readonly Point2[]): Rectilinear | undefined {
  const n = corners.length;
  const square = corners.every((b, i) => {
    const [before, after] = [minus(b, corners.at(i - 1)!), minus(corners[(i + 1) % n]!, b)];
    const lean = Math.abs(before[0] * after[0] + before[1] * after[1]);
    return lean <= EQUAL * Math.max(size(before), size(after));
  });
  return square ? new Rectilinear(corners) : undefined;
}

/** What a polygon with sharp corners is the section of; undefined for none of these. */
export function matchSection(corners: readonly Point2[]): MatchedSection | undefined {
  const outline = rectilinear(corners);
  if (outline === undefined) return undefined;
  switch (outline.n) {
    case 4:
      return rectangle(outline);
    case 6:
      return angle(outline);
    case 8:
      return channel(outline);
    case 12:
      return iSection(outline);
    default:
      return undefined;
  }
}

function rectangle(outline: Rectilinear): MatchedSection {
  const y = unit2(minus(outline.at(1), outline.at(0)));
  const centre = middle(outline.at(0), outline.at(2));
  return { kind: 'rectangle', width: outline.side(0), height: outline.side(1), centre, y };
}

/** From the heel, which is three corners from the inner one, the legs go out along y and z. */
function angle(outline: Rectilinear): MatchedSection | undefined {
  const [inner, ...more] = outline.inner;
  if (inner === undefined || more.length > 0) return undefined;
  const heel = inner + 3;
  const [width, height] = [outline.side(heel), outline.side(heel - 1)];
  const [thickness, other] = [outline.side(heel + 1), outline.side(heel - 2)];
  if (!equal(thickness, other)) return undefined;
  const [tipY, tipZ] = [outline.at(heel + 1), outline.at(heel - 1)];
  const [y, z] = [tipY, tipZ].map((tip) => unit2(minus(tip, outline.at(heel)))) as [Point2, Point2];
  return { kind: 'angle', width, height, thickness, centre: middle(tipY, tipZ), y, z };
}

/** The inner side of the web lies between the two inner corners; the flanges go out from it to either side. */
function channel(outline: Rectilinear): MatchedSection | undefined {
  const inner = outline.inner;
  const first = inner.find((i) => inner.includes((i + 1) % outline.n));
  if (inner.length !== 2 || first === undefined) return undefined;
  const [width, other] = [outline.side(first - 3), outline.side(first + 3)];
  const [flange, otherFlange] = [outline.side(first - 2), outline.side(first + 2)];
  const height = outline.side(first + 4);
  const depth = outline.side(first - 1);
  if (!equal(width, other) || !equal(flange, otherFlange)) return undefined;
  const y = unit2(minus(outline.at(first - 1), outline.at(first)));
  const centre = middle(outline.at(first - 2), outline.at(first + 4));
  return { kind: 'channel', width, height, web: width - depth, flange, centre, y };
}

/** Two pairs of inner corners, a web in the middle of two equal flanges. */
function iSection(outline: Rectilinear): MatchedSection | undefined {
  const inner = outline.inner;
  const first = inner.find((i) => inner.includes((i + 1) % 12) && inner.includes((i + 6) % 12));
  if (inner.length !== 4 || first === undefined || !inner.includes((first + 7) % 12)) return undefined;
  const depths = [first - 1, first + 1, first + 5, first + 7].map((i) => outline.side(i));
  const flanges = [first - 2, first + 2, first + 4, first + 8].map((i) => outline.side(i));
  const [width, other] = [outline.side(first + 3), outline.side(first - 3)];
  const [depth, flange] = [depths[0]!, flanges[0]!];
  const alike = depths.every((one) => equal(one, depth)) && flanges.every((one) => equal(one, flange));
  if (!alike || !equal(width, other)) return undefined;
  const height = outline.side(first) + 2 * flange;
  const y = unit2(minus(outline.at(first - 1), outline.at(first)));
  const centre = middle(outline.at(first - 2), outline.at(first + 4));
  return { kind: 'i-section', width, height, web: width - 2 * depth, flange, centre, y };
}
