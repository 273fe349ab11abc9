import { snap } from '../base/order.js';
import { pointSolidDistance } from '../geometry/distance.js';
import {
  along,
  cross,
  distance,
  dot,
  length as vectorLength,
  negate,
  scale,
  subtract,
  unit,
  type Vec3,
} from '../geometry/vector.js';
import type { Spring } from '../mechanics/point-store.js';
import { REFERENCE } from '../mechanics/reference.js';
import { tackShrinkage, type WeldShrinkage } from '../mechanics/shrinkage.js';
import { tackSprings, type TackMetal } from '../mechanics/tack-springs.js';
import { throat } from '../mechanics/tack-strength.js';
import { thicknessUnder } from '../model/group.js';
import type { Scene } from '../model/scene.js';
import type { Settings } from '../model/settings.js';
import type { JointType } from '../model/weldment.js';

/** A tack as it shrinks. Parts by index, cell frame with the table at index angle 0, mm. */
export interface ShrinkingTack {
  readonly id: string;
  readonly seam: string;
  readonly a: number;
  readonly b: number;
  /** Middle of its root line. */
  readonly at: Vec3;
  /** Unit, along the seam. */
  readonly along: Vec3;
  /** Unit bisector of the open side. */
  readonly open: Vec3;
  readonly length: number;
  readonly leg: number;
  /** Designed root gap. */
  readonly gap: number;
  readonly seamLength: number;
  readonly type: JointType;
  /** What it shrinks by; left out: what `freeShrinkage` gives a tack. */
  readonly shrinkage?: WeldShrinkage;
}

/** Drawn by less than this, mm, or than this share of the free shrinkage, a part is not drawn at all. */
const NOT_DRAWN = { mm: 1e-6, share: 1e-4 } as const;

/** A contact plane that holds a seam may be this far off square to it, as the sine of the angle. */
const ALONG = 1e-3;

function toSegment(point: Vec3, from: Vec3, to: Vec3): number {
  const way = subtract(to, from);
  const size = dot(way, way);
  const share = size === 0 ? 0 : Math.min(1, Math.max(0, dot(subtract(point, from), way) / size));
  return distance(point, along(from, way, share));
}

const toRim = (point: Vec3, polygon: readonly Vec3[]): number =>
  Math.min(...polygon.map((from, i) => toSegment(point, from, polygon[(i + 1) % polygon.length]!)));

/**
 * The way square to the contact on whose rim a tack lies, unit, from its first part into its second; from centre to
 * centre where the two do not meet.
 */
export function acrossContact(scene: Scene, tack: Pick<ShrinkingTack, 'a' | 'b' | 'at' | 'along'>): Vec3 {
  const { a, b, at } = tack;
  const [low, high] = a < b ? [a, b] : [b, a];
  const contact = scene.contacts.find((one) => one.a === low && one.b === high);
  let best: { readonly normal: Vec3; readonly far: number } | undefined;
  for (const { normal, polygon } of contact?.patches ?? []) {
    if (Math.abs(dot(normal, tack.along)) > ALONG) continue;
    const far = toRim(at, polygon);
    if (best === undefined || far < best.far - 1e-6) best = { normal, far };
  }
  if (best !== undefined) return a < b ? best.normal : negate(best.normal);
  const way = subtract(scene.parts[b]!.solid.centre, scene.parts[a]!.solid.centre);
  return dot(way, way) > 0 ? unit(way) : [0, 0, 1];
}

/** The open direction without what of it is along the tack. */
const squareOpen = ({ open, along: way }: ShrinkingTack): Vec3 =>
  unit(subtract(open, scale(way, dot(open, way))));

/** The way in which the second part is drawn to the first: across the throat, and so square to the open direction. */
export function pullOf(scene: Scene, tack: ShrinkingTack): Vec3 {
  const way = unit(cross(tack.along, squareOpen(tack)));
  return dot(way, acrossContact(scene, tack)) > 0 ? negate(way) : way;
}

/** The way in which the second part turns where the face of a tack closes, unit, by the right hand. */
export const closing = (scene: Scene, tack: ShrinkingTack): Vec3 =>
  scale(tack.along, Math.sign(dot(cross(tack.along, squareOpen(tack)), pullOf(scene, tack))));

/** How far a point may be off a face that goes on under the leg of a tack, beyond the root gap, mm. */
const ON_FACE = 0.1;

/**
 * Thickness by which a tack shrinks, mm: that of the bottom part, whose face goes on under its leg, as the formulas for
 * fillets have it; that of the thinner part where neither or both do.
 */
function bottomThickness(scene: Scene, tack: ShrinkingTack): number {
  const across = acrossContact(scene, tack);
  const open = squareOpen(tack);
  const aside = along(open, across, -dot(open, across));
  const parts = [scene.parts[tack.a]!, scene.parts[tack.b]!];
  const thinner = Math.min(...parts.map((part) => thicknessUnder(part, tack)));
  if (dot(aside, aside) < ALONG) return thinner;
  const under = along(tack.at, unit(aside), tack.leg);
  const bottom = parts.filter(({ solid }) => pointSolidDistance(under, solid) <= tack.gap + ON_FACE);
  return bottom.length === 1 ? thicknessUnder(bottom[0]!, tack) : thinner;
}

/** Stretch of seam that a tack stands for, mm: the seam, or the pitch that the tack rules allow where that is less. */
function tributary(scene: Scene, tack: ShrinkingTack, settings: Settings): number {
  const { a, b, seamLength } = tack;
  const thinner = Math.min(...[a, b].map((part) => thicknessUnder(scene.parts[part]!, tack)));
  const { 'pitch-thicknesses': thicknesses, 'pitch-most': most } = settings.tacks;
  return Math.min(seamLength, thicknesses * thinner, most);
}

/**
 * What a tack shrinks by where nothing hinders it: published figures with the factors of the settings. It counts by its
 * length over the stretch of seam that it stands for; as a piece of a full weld it counts in full.
 */
export function freeShrinkage(
  scene: Scene,
  tack: ShrinkingTack,
  settings: Settings,
  as: 'tack' | 'full' = 'tack',
): WeldShrinkage {
  const { type, leg, length } = tack;
  const thickness = bottomThickness(scene, tack);
  const { transverse, longitudinal, angular } = settings.distortion;
  const stretch = as === 'full' ? length : tributary(scene, tack, settings);
  return tackShrinkage(
    { type, leg, length, tributary: stretch, thicknessA: thickness, thicknessB: thickness },
    { transverse, longitudinal, angular },
  );
}

/** How far apart its parts are at a point of a seam by design, mm. */
export const rootGap = (scene: Scene, a: number, b: number, at: Vec3): number =>
  Math.max(...[a, b].map((part) => pointSolidDistance(at, scene.parts[part]!.solid)));

/** The metal of a tack and what it shrinks by where nothing hinders it; `pull` as pullOf has it. */
type Weld = Omit<TackMetal, 'shrinkage'> & { readonly free: WeldShrinkage };

/** What of a tack is the same whenever it is laid. */
export interface TackSeat {
  /** See acrossContact. */
  readonly across: Vec3;
  /** Undefined where the root gap leaves no throat. */
  readonly weld: Weld | undefined;
}

/** How a tack sits between its parts as they should be. */
export const seatOf = (scene: Scene, tack: ShrinkingTack, settings: Settings): TackSeat => ({
  across: acrossContact(scene, tack),
  weld: throat(tack.leg, tack.gap) > 0 ? weldOf(scene, tack, settings) : undefined,
});

const weldOf = (scene: Scene, tack: ShrinkingTack, settings: Settings): Weld => ({
  ...{ a: tack.a, b: tack.b, at: tack.at, along: tack.along, open: squareOpen(tack), length: tack.length },
  throat: throat(tack.leg, tack.gap),
  modulus: REFERENCE.materials.mildSteel.modulus.value,
  yield: yieldOf(scene, tack),
  pull: pullOf(scene, tack),
  free: tack.shrinkage ?? freeShrinkage(scene, tack, settings),
});

/**
 * How a tack draws its second part across the weld, mm. What bears already is not drawn nearer: the part would only pivot
 * about the edge of the contact, half a millimetre from the root, and that turn is in the published angle. So of the way
 * square to the contact only what the seam stands open is left.
 */
function drawn({ pull, free }: Weld, across: Vec3, opening: number): Vec3 {
  const way = scale(pull, free.transverse);
  const nearer = -dot(way, across);
  return along(way, across, Math.max(0, nearer - opening));
}

/**
 * A tack as the engine has it: its metal, with the shrinkage of published formulas and the factors of the settings.
 * `opening` is how far its seam stands open there, mm.
 */
export function shrinkingSprings({ across, weld }: TackSeat, opening: number): readonly Spring[] {
  if (!weld) return [];
  const { pull, free, ...metal } = weld;
  const way = drawn(weld, across, opening);
  // What is left of a pull square to a closed contact is rounding, whose direction would turn the part to either side.
  const left = vectorLength(way);
  const far = left < NOT_DRAWN.share * free.transverse ? 0 : snap(left, NOT_DRAWN.mm);
  return tackSprings({
    ...metal,
    pull: far > 0 ? scale(way, 1 / far) : pull,
    shrinkage: { ...free, transverse: far },
  });
}

/** Yield stress that a tack reaches, MPa: that of the weaker of the two steels. */
function yieldOf(scene: Scene, { a, b }: ShrinkingTack): number {
  const names = [a, b].map((part) => scene.parts[part]!.part.material.name);
  const grades = Object.entries(REFERENCE.steelGrades).flatMap(([name, { yieldStrength }]) =>
    names.includes(name) ? [yieldStrength.value] : [],
  );
  return grades.length > 0 ? Math.min(...grades) : REFERENCE.steelGrades.S235.yieldStrength.value;
}
