import { REFERENCE } from './reference.js';

const { bow: BLODGETT, tendonForce: TENDON, okerblom: OKERBLOM } = REFERENCE.shrinkage;

/** Force, N, with which a weld pulls along its line, by the net heat input in J/mm: 0.2 kN per J/mm (from memory). */
export const tendonForce = (heat: number): number => TENDON.value * heat;

/**
 * The same by Okerblom, N: 0.335 x expansion over heat capacity by volume x modulus x net heat input in J/mm (from
 * memory); expansion in 1/K, modulus in MPa, heat capacity in J/mm3K, that of steel when left out.
 */
export const okerblomForce = (
  heat: number,
  expansion: number,
  modulus: number,
  heatCapacity: number = OKERBLOM.value.heatCapacity,
): number => ((OKERBLOM.value.factor * expansion) / heatCapacity) * modulus * heat;

/** Bow of a part with a continuous weld, mm: 0.005 x area of the weld x its distance from the neutral axis x L^2 / I (Blodgett). */
export const blodgettBow = (area: number, distance: number, length: number, inertia: number): number =>
  (BLODGETT.value * area * distance * length ** 2) / inertia;

/** A slender part: length, mm, modulus, MPa, and second moment of area about the axis it bows about, mm4. */
export interface SlenderPart {
  readonly length: number;
  readonly modulus: number;
  readonly inertia: number;
}

/** A weld along a slender part, from one distance from its end to another, mm. */
export interface ShrinkingStretch {
  readonly from: number;
  readonly to: number;
  /** Pull along its line, N. */
  readonly force: number;
  /** Distance of its line from the neutral axis, mm; its sign is the side. */
  readonly eccentricity: number;
}

/**
 * How far the middle of a part stands off the straight line between its ends, mm, by the pull of welds along it. Each
 * bends the part by F e / (E I) over its own length; one over the whole length gives F e L^2 / (8 E I). The part is free
 * to bow: what holds it is not counted.
 */
export const bow = (part: SlenderPart, welds: readonly ShrinkingStretch[]): number =>
  welds.reduce(
    (sum, { from, to, force, eccentricity }) =>
      sum +
      ((force * eccentricity) / (part.modulus * part.inertia)) *
        (bentUpTo(part.length, to) - bentUpTo(part.length, from)),
    0,
  );

/** Offset of the middle that unit curvature from the start to `x` brings about. */
const bentUpTo = (length: number, x: number): number =>
  x <= length / 2 ? x ** 2 / 4 : length ** 2 / 8 - (length - x) ** 2 / 4;
