import type { Point2 } from '../../geometry/outline.js';
import type { Vec3 } from '../../geometry/vector.js';
import { cross, negate } from '../../geometry/vector.js';
import type { Contour } from './contour.js';
import { framesAlong, boxPart } from './box-part.js';
import type { Extrusion } from './extrusion.js';
import { plainest } from './frame-choice.js';
import { mm } from './millimetres.js';
import { directionIn, lengthOf, pointIn } from './placing.js';
import type { Draft } from './recognised.js';
import type { AngleSection, FlangedSection, RectangleSection } from './section-match.js';
import { matchSection } from './section-match.js';
import { sharpOutline } from './sharp.js';

/** Walls may differ by so much, and centres be apart, mm. */
const EQUAL = 0.01;
/** Corners of a bar are drawn sharp up to this share of its least width (our choice); else they stay round. */
const BAR_CORNERS = 0.25;

/**
 * A solid as a bar or a rolled, drawn or folded section of the kinds that a weldment file knows; undefined for any other, and
 * for a slice of such a section that is thinner than its walls, which is cut from plate.
 */
export function rolledPart(extrusion: Extrusion): Draft | undefined {
  const { outer, holes } = extrusion;
  if (outer.circle !== undefined) return roundPart(extrusion);
  const outline = sharpOutline(outer);
  const section = outline && matchSection(outline.corners);
  if (outline === undefined || section === undefined) return undefined;
  if (section.kind === 'rectangle' && holes.length === 1)
    return hollow(extrusion, section, outline.radii, holes[0]!);
  if (holes.length > 0) return undefined;
  if (section.kind === 'rectangle') return solidBar(extrusion, section, outline.radii);
  return opened(extrusion, section, outline.radii);
}

function roundPart(extrusion: Extrusion): Draft | undefined {
  const { outer, holes, axes } = extrusion;
  const { centre, radius } = outer.circle!;
  const length = lengthOf(extrusion);
  const place = {
    at: pointIn(extrusion, centre),
    turn: plainest(framesAlong(axes.d, levelAcross(axes.d))).turn,
  };
  if (holes.length === 0) {
    const sizes = { length: mm(length), diameter: mm(2 * radius) };
    return { key: 'round-bar', sizes, ...place, notes: [] };
  }
  const bore = holes.length === 1 ? holes[0]!.circle : undefined;
  if (bore === undefined || apart(bore.centre, centre) > EQUAL || length < radius - bore.radius)
    return undefined;
  const sizes = { length: mm(length), diameter: mm(2 * radius), wall: mm(radius - bore.radius) };
  return { key: 'round-hollow-section', sizes, ...place, notes: [] };
}

/** Level and square to a direction, so that a round part is not rolled; y for an upright one. */
const levelAcross = (d: Vec3): Vec3 => {
  const size = Math.hypot(d[0], d[1]);
  return size < 1e-9 ? [0, 1, 0] : [-d[1] / size, d[0] / size, 0];
};

function solidBar(
  extrusion: Extrusion,
  section: RectangleSection,
  radii: readonly number[],
): Draft | undefined {
  const { width, height, centre, y } = section;
  const length = lengthOf(extrusion);
  const least = Math.min(width, height);
  const isPlate = length <= least;
  if (radii.length > 0 && (isPlate || Math.max(...radii) > BAR_CORNERS * least)) return undefined;
  const across = directionIn(extrusion, y);
  const sides = [
    { along: extrusion.axes.d, size: length },
    { along: across, size: width },
    { along: cross(extrusion.axes.d, across), size: height },
  ];
  const draft = boxPart(sides, pointIn(extrusion, centre));
  return { ...draft, notes: sharpNotes(radii) };
}

/** The turn of a hollow section, whose width may lie along either side of the rectangle. */
function hollow(
  extrusion: Extrusion,
  section: RectangleSection,
  radii: readonly number[],
  hole: Contour,
): Draft | undefined {
  const inner = sharpOutline(hole);
  const cavity = inner && matchSection(inner.corners);
  if (inner === undefined || cavity?.kind !== 'rectangle') return undefined;
  const swapped = Math.abs(section.y[0] * cavity.y[0] + section.y[1] * cavity.y[1]) < 0.5;
  const [inWidth, inHeight] = swapped ? [cavity.height, cavity.width] : [cavity.width, cavity.height];
  const [wall, other] = [(section.width - inWidth) / 2, (section.height - inHeight) / 2];
  const uneven = Math.abs(wall - other) > EQUAL || apart(section.centre, cavity.centre) > EQUAL;
  const length = lengthOf(extrusion);
  if (uneven || length < wall) return undefined;
  const y = directionIn(extrusion, section.y);
  const { choice, turn } = plainest<readonly [number, number]>([
    ...eitherWay(extrusion.axes.d, y, [section.width, section.height] as const),
    ...eitherWay(extrusion.axes.d, cross(extrusion.axes.d, y), [section.height, section.width] as const),
  ]);
  const sizes = {
    length: mm(length),
    width: mm(choice[0]),
    height: mm(choice[1]),
    wall: mm((wall + other) / 2),
  };
  const notes = sharpNotes([...radii, ...inner.radii]);
  return { key: 'rectangular-hollow-section', sizes, at: pointIn(extrusion, section.centre), turn, notes };
}

const eitherWay = <T>(x: Vec3, y: Vec3, choice: T): (readonly [Vec3, Vec3, T])[] =>
  [x, negate(x)].flatMap((a) => [y, negate(y)].map((b) => [a, b, choice] as const));

/** An angle, channel or I-section. */
function opened(
  extrusion: Extrusion,
  section: AngleSection | FlangedSection,
  radii: readonly number[],
): Draft | undefined {
  const wall = section.kind === 'angle' ? section.thickness : Math.min(section.web, section.flange);
  if (lengthOf(extrusion) < wall) return undefined;
  const notes = sharpNotes(radii);
  return section.kind === 'angle' ? angle(extrusion, section, notes) : flanged(extrusion, section, notes);
}

/** Either leg may lie along y: then x looks the other way. */
function angle(extrusion: Extrusion, section: AngleSection, notes: readonly string[]): Draft {
  const { width, height, thickness } = section;
  const [y, z] = [directionIn(extrusion, section.y), directionIn(extrusion, section.z)];
  const { choice, turn } = plainest<readonly [number, number]>([
    [cross(y, z), y, [width, height]],
    [cross(z, y), z, [height, width]],
  ]);
  const walls = { width: mm(choice[0]), height: mm(choice[1]), thickness: mm(thickness) };
  const sizes = { length: mm(lengthOf(extrusion)), ...walls };
  return { key: 'angle', sizes, at: pointIn(extrusion, section.centre), turn, notes };
}

function flanged(extrusion: Extrusion, section: FlangedSection, notes: readonly string[]): Draft {
  const { kind, width, height, web, flange, centre } = section;
  const { d } = extrusion.axes;
  const y = directionIn(extrusion, section.y);
  const ways = kind === 'channel' ? [y] : [y, negate(y)];
  const frames = [d, negate(d)].flatMap((x) => ways.map((one) => [x, one, undefined] as const));
  const walls = { height: mm(height), width: mm(width), web: mm(web), flange: mm(flange) };
  const sizes = { length: mm(lengthOf(extrusion)), ...walls };
  return { key: kind, sizes, at: pointIn(extrusion, centre), turn: plainest(frames).turn, notes };
}

const apart = (a: Point2, b: Point2): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Round corners that a part has not, by their radii. */
function sharpNotes(radii: readonly number[]): readonly string[] {
  const distinct = [...new Set(radii.map((radius) => mm(radius)))].sort((a, b) => b - a);
  return distinct.length === 0 ? [] : [`corners of radius ${distinct.join(', ')} mm are drawn sharp`];
}
