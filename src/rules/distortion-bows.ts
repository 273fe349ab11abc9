import { rounded } from '../base/order.js';
import { addInertia, pointInertia, type Inertia } from '../geometry/mass.js';
import { rotate } from '../geometry/pose.js';
import { about } from '../geometry/principal.js';
import { add, along, cross, dot, perpendicular, scale, subtract, type Vec3 } from '../geometry/vector.js';
import { blodgettBow } from '../mechanics/bow.js';
import type { PlanDistortion } from '../model/plan.js';
import type { PlacedPart, Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { ShrinkingTack } from './distortion-tacks.js';

/** A part counts as slender when it is longer than this many times its depth (our choice). */
const SLENDER = 10;
/** A seam runs along a part where their directions agree so far, and where it is at least this share of its length. */
const PARALLEL = 0.999;
const LONG_SHARE = 0.5;
const DIGITS = 3;

/** The long way of a slender part, in the cell. */
interface Slender {
  readonly axis: Vec3;
  readonly length: number;
}

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** The axis of the shape along which a part is slender; undefined when it is not. */
function slenderOf({ own, pose }: PlacedPart): Slender | undefined {
  const sizes = subtract(own.bounds.high, own.bounds.low);
  const longest = sizes.indexOf(Math.max(...sizes));
  const depth = Math.max(...sizes.filter((_, i) => i !== longest));
  const size = sizes[longest]!;
  return size > SLENDER * depth ? { axis: rotate(pose.turn, AXES[longest]!), length: size } : undefined;
}

/** Parts that run side by side, with the tacks along them. */
interface Member extends Slender {
  readonly parts: ReadonlySet<number>;
  readonly tacks: readonly ShrinkingTack[];
}

/** The slender part and all that is tacked along it, and along what is slender of that, the same way. */
function memberOf(
  scene: Scene,
  start: number,
  { axis, length }: Slender,
  tacks: readonly ShrinkingTack[],
): Member {
  const along = tacks.filter(
    (tack) => Math.abs(dot(tack.along, axis)) > PARALLEL && tack.seamLength >= LONG_SHARE * length,
  );
  const parts = new Set([start]);
  for (const part of parts) {
    const own = part === start ? axis : slenderOf(scene.parts[part]!)?.axis;
    if (own === undefined || Math.abs(dot(own, axis)) < PARALLEL) continue;
    for (const { a, b } of along) if (a === part || b === part) parts.add(a).add(b);
  }
  return { axis, length, parts, tacks: along.filter(({ a, b }) => parts.has(a) && parts.has(b)) };
}

/** How long a part is along a direction, mm. */
function extent({ solid }: PlacedPart, axis: Vec3): number {
  const reach = solid.pieces.flatMap(({ vertices }) => vertices.map((at) => dot(at, axis)));
  return Math.max(...reach) - Math.min(...reach);
}

/** A cross-section: its area, mm2, a point of its middle line, and the matrix of its second moments, mm4. */
interface Section {
  readonly centre: Vec3;
  readonly moments: Inertia;
}

/** The section of parts side by side, each its volume over its length; what lies along the axis does not count. */
function sectionOf(scene: Scene, { parts, axis }: Member): Section {
  const pieces = [...parts].map((part) => {
    const placed = scene.parts[part]!;
    const size = extent(placed, axis);
    return {
      area: placed.solid.volume / size,
      size,
      centre: placed.solid.centre,
      inertia: placed.solid.inertia,
    };
  });
  const area = pieces.reduce((sum, piece) => sum + piece.area, 0);
  const centre = scale(
    pieces.reduce<Vec3>((sum, piece) => along(sum, piece.centre, piece.area), [0, 0, 0]),
    1 / area,
  );
  const moments = pieces
    .map((piece) => {
      const off = subtract(piece.centre, centre);
      const across = along(off, axis, -dot(off, axis));
      return addInertia(scaled(piece.inertia, 1 / piece.size), pointInertia(across, piece.area));
    })
    .reduce(addInertia);
  return { centre, moments };
}

const scaled = (inertia: Inertia, factor: number): Inertia =>
  inertia.map((cell) => cell * factor) as unknown as Inertia;

/**
 * Two directions across the axis, its principal ones, each with the second moment of area that resists a bow that way:
 * the integral of the squared distance along it.
 */
function principalWays(
  axis: Vec3,
  { moments }: Section,
): readonly { readonly way: Vec3; readonly moment: number }[] {
  const [y, z] = [perpendicular(axis), cross(axis, perpendicular(axis))];
  // From |r|^2 - r r' back to r r'.
  const trace = (moments[0] + moments[4] + moments[8]) / 2;
  const squared = (way: Vec3): number => trace - about(moments, way);
  const mixed = -dot(y, rotate(moments, z));
  const angle = Math.atan2(2 * mixed, squared(y) - squared(z)) / 2;
  const first = add(scale(y, Math.cos(angle)), scale(z, Math.sin(angle)));
  return [first, cross(axis, first)].map((way) => ({ way, moment: squared(way) }));
}

/** The bow of a member by all its tacks together, mm: their metal is taken as spread evenly over its length. */
function bowOf(scene: Scene, member: Member): number {
  const section = sectionOf(scene, member);
  const ways = principalWays(member.axis, section).map(({ way, moment }) => {
    return member.tacks.reduce((sum, { leg, length, at }) => {
      const area = ((leg * leg) / 2) * (length / member.length);
      return sum + blodgettBow(area, dot(subtract(at, section.centre), way), member.length, moment);
    }, 0);
  });
  return Math.hypot(...ways);
}

/** A member with how far it bows in the middle, mm. */
export interface MemberBow {
  /** By index, ascending. */
  readonly parts: readonly number[];
  readonly length: number;
  readonly bow: number;
}

/**
 * The members of a tack-up that bow: slender parts with tacks along them, together with what these join them to, as one
 * section. Over the whole tack-up at once: that the section grew from tack to tack is left out.
 */
export function bowsOf(
  scene: Scene,
  settings: Settings,
  tacks: readonly ShrinkingTack[],
): readonly MemberBow[] {
  const seen = new Set<number>();
  return scene.parts.flatMap((placed, part) => {
    const slender = slenderOf(placed);
    if (slender === undefined || seen.has(part)) return [];
    const member = memberOf(scene, part, slender, tacks);
    for (const one of member.parts) seen.add(one);
    if (member.tacks.length === 0) return [];
    const parts = [...member.parts].sort((p, q) => p - q);
    return [{ parts, length: member.length, bow: bowOf(scene, member) * settings.distortion.longitudinal }];
  });
}

/** The same as a plan states it. */
export const memberBows = (
  scene: Scene,
  settings: Settings,
  tacks: readonly ShrinkingTack[],
): PlanDistortion['bows'] =>
  bowsOf(scene, settings, tacks).map(({ parts, length, bow }) => ({
    parts: parts.map((one) => scene.parts[one]!.part.id),
    length: rounded(length, DIGITS),
    bow: rounded(bow, DIGITS),
  }));
