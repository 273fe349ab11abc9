import { REFERENCE } from './reference.js';

/** What decides how strongly a magnet pad pulls on a certain place of a certain part. */
export interface MagnetPullInput {
  /** Pull on thick, clean mild steel without a gap, N, by the maker. */
  readonly ratedPull: number;
  /** Share of the pull that the air gap (scale, paint, roughness) leaves, 0 to 1. */
  readonly gapFactor: number;
  /** Thickness of the part under the pad, mm. */
  readonly thickness: number;
  /** Thickness from which the rated pull is reached, mm; zero or less when any thickness will do. */
  readonly ratedThickness: number;
  /** Share of the pull that the material leaves: 1 for mild steel, 0 for what is not magnetic. */
  readonly materialFactor: number;
  /** Share of the pull that the temperature leaves, 0 to 1; 1 when left out. */
  readonly temperatureFactor?: number | undefined;
}

/** Temperature grade of a magnet: N, M, H or SH. */
export type MagnetGrade = keyof typeof REFERENCE.magnetGrades.limits.value;

const share = (value: number): number => Math.min(1, Math.max(0, value));

/**
 * Share of the rated pull on a plate thinner than the rated thickness: in proportion. The flux that a plate carries
 * before it saturates grows with its section, hence with its thickness; pull grows with the square of the flux in
 * the gap, so the proportion is a simplification between the two (common practice: makers give a curve; use it
 * when there is one, as `gapFactor`).
 */
export const thicknessFactor = (thickness: number, ratedThickness: number): number =>
  ratedThickness > 0 ? share(thickness / ratedThickness) : 1;

/** Greatest temperature in C at which a magnet of a grade keeps its strength; beyond it the loss is for good. */
export const gradeLimit = (grade: MagnetGrade): number => REFERENCE.magnetGrades.limits.value[grade];

/**
 * Share of the rated pull that a magnet of a grade has at a temperature in C: the reversible loss counted from 20 C,
 * no gain below; nothing beyond the limit of the grade. The loss of about 0.12 % a kelvin (from memory) is that of
 * the magnet's remanence; pull goes with the square of the flux, so the square is taken, the lesser of the two.
 */
export function temperatureFactor(temperature: number, grade: MagnetGrade): number {
  if (temperature > gradeLimit(grade)) return 0;
  return share(1 - REFERENCE.magnetGrades.lossPerKelvin.value * (temperature - 20)) ** 2;
}

/** Pull of one magnet pad square to its face, N, before any safety factor. Factors outside 0 to 1 are cut to it. */
export const magnetPull = (input: MagnetPullInput): number =>
  Math.max(0, input.ratedPull) *
  share(input.gapFactor) *
  thicknessFactor(input.thickness, input.ratedThickness) *
  share(input.materialFactor) *
  share(input.temperatureFactor ?? 1);

/** Gap in mm at which a magnet's pull has fallen to a quarter, in our estimate of how it falls off. */
const QUARTER_GAP = 2.5;

/**
 * Share of a magnet's pull that is left across an air gap in mm: our own estimate, for what a pad does to parts that
 * it does not hold. The flux falls as 1 / (1 + gap / 2.5 mm), as in a circuit whose gap adds to a fixed reluctance, and
 * pull goes with its square. It leaves 86 % at 0.2 mm and 51 % at 1 mm, so at both no less than common practice (70 to
 * 80 % and 30 to 50 %): it never makes a neighbour look freer than it is.
 */
export const gapShare = (gap: number): number => 1 / (1 + Math.max(0, gap) / QUARTER_GAP) ** 2;

/** What decides how strongly a suction cup pulls. */
export interface VacuumPullInput {
  /** Pressure below that of the air outside, kPa. */
  readonly pressure: number;
  /** Diameter over which the pressure acts, inside the sealing lip, mm. */
  readonly diameter: number;
  /** Share of the pull that the surface leaves (scale, oil, roughness leak), 0 to 1. */
  readonly surfaceFactor: number;
}

/** Pull of one suction cup square to its face, N: pressure difference times area times surface factor (1 kPa = 1e-3 N/mm2). */
export const vacuumPull = ({ pressure, diameter, surfaceFactor }: VacuumPullInput): number =>
  Math.max(0, pressure) * 1e-3 * (Math.PI / 4) * diameter ** 2 * share(surfaceFactor);

/** Force along the face that a pad carries by friction under its full pull, N. */
export const padShear = (pull: number, friction: number): number => pull * friction;

/** Force along its faces that a jaw carries by the friction of both fingers, N: 2 mu F. */
export const jawShear = (force: number, friction: number): number => 2 * padShear(force, friction);

/** Moment about its axis that a round pad carries, N mm: 2/3 mu P R, even pressure over the disc (radius in mm). */
export const padSpin = (pull: number, friction: number, radius: number): number =>
  (2 / 3) * friction * pull * radius;

/** The heaviest mass, kg, that a pad carries hanging, while the robot accelerates it upward by `acceleration` m/s2. */
export const hangingMass = (pull: number, gravity: number, acceleration: number): number =>
  pull / (gravity + acceleration);
