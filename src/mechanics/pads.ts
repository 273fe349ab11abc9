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
}

const share = (value: number): number => Math.min(1, Math.max(0, value));

/**
 * Share of the rated pull on a plate thinner than the rated thickness: in proportion. The flux that a plate carries
 * before it saturates grows with its section, hence with its thickness; pull grows with the square of the flux in
 * the gap, so the proportion is a simplification between the two (common practice: makers give a curve; use it
 * when there is one, as `gapFactor`).
 */
export const thicknessFactor = (thickness: number, ratedThickness: number): number =>
  ratedThickness > 0 ? share(thickness / ratedThickness) : 1;

/** Pull of one magnet pad square to its face, N, before any safety factor. Factors outside 0 to 1 are cut to it. */
export const magnetPull = (input: MagnetPullInput): number =>
  Math.max(0, input.ratedPull) *
  share(input.gapFactor) *
  thicknessFactor(input.thickness, input.ratedThickness) *
  share(input.materialFactor);

/** Force along the face that a pad carries by friction under its full pull, N. */
export const padShear = (pull: number, friction: number): number => pull * friction;

/** Moment about its axis that a round pad carries, N mm: 2/3 mu P R, even pressure over the disc (radius in mm). */
export const padSpin = (pull: number, friction: number, radius: number): number =>
  (2 / 3) * friction * pull * radius;

/** The heaviest mass, kg, that a pad carries hanging, while the robot accelerates it upward by `acceleration` m/s2. */
export const hangingMass = (pull: number, gravity: number, acceleration: number): number =>
  pull / (gravity + acceleration);
