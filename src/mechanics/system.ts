import type { Vec3 } from '../geometry/vector.js';

/** The body number of what never moves: table, clamped or fixed things. */
export const GROUND = -1;

/** Standard acceleration of free fall, m/s2 (ISO 80000-3). */
export const STANDARD_GRAVITY = 9.80665;

/** A rigid body. Mass in kg, centre of mass in mm. */
export interface Body {
  readonly mass: number;
  readonly centre: Vec3;
}

/** A patch, line or point where two bodies touch and may push, but never pull. */
export interface Bearing {
  /** Body number or GROUND. */
  readonly a: number;
  readonly b: number;
  /** Corners of the patch, mm; two for a line, one for a point. */
  readonly corners: readonly Vec3[];
  /** Unit vector from a into b: a pushes b along it. */
  readonly normal: Vec3;
  /** Coulomb coefficient. */
  readonly friction: number;
  /**
   * Declared clamping force, N: a pair of outside forces that presses the two together, spread evenly over the
   * corners. Counts for friction.
   */
  readonly preload: number;
}

/**
 * A tack between two bodies: two forces, each of at most half the strength in any direction, at a quarter of the
 * length on either side of its middle, and no moment. Its own line is therefore a hinge.
 */
export interface Link {
  readonly a: number;
  readonly b: number;
  /** Middle of the tack, mm. */
  readonly at: Vec3;
  /** Unit vector along the tack. */
  readonly along: Vec3;
  /** Length, mm. */
  readonly length: number;
  /** Strength of the whole tack, N. */
  readonly strength: number;
}

/**
 * A round pad of a hold on a body: a preloaded contact. A magnet or suction cup pulls the body to itself by `pull`
 * and lets the contact push as hard as it must. Of a jaw's two opposed pads each has the jaw's force F both as `pull`
 * and as `most`: the two pulls cancel, each pad may push with 0 to F, so the jaw resists a load across it of at most
 * F and one along its faces of at most 2 mu F, and no squeeze above F is ever invented. A jaw whose fingers are
 * geared together could resist up to 2 F across; which kind it is, is not known.
 */
export interface Pad {
  readonly body: number;
  /** Number of the hold that it belongs to. */
  readonly hold: number;
  /** Centre of its face, mm. */
  readonly at: Vec3;
  /** Unit vector from the pad into the part. */
  readonly normal: Vec3;
  /** Radius, mm. */
  readonly radius: number;
  /** Pull square to its face after all reductions, N. */
  readonly pull: number;
  /** Greatest total push square to its face, N; undefined for no limit. */
  readonly most?: number | undefined;
  /** Coulomb coefficient. */
  readonly friction: number;
}

/** What keeps pads in place: rigid ground up to its limits, which bind each axis of the base frame by itself. */
export interface Hold {
  /** N; Infinity for no limit. */
  readonly force: number;
  /** N mm about `at`; Infinity for no limit. */
  readonly moment: number;
  /** Where its moment is taken, mm. */
  readonly at: Vec3;
}

/** Bodies and all that may push, pull or hold them. Indices of the arrays are their numbers. */
export interface System {
  readonly bodies: readonly Body[];
  readonly bearings: readonly Bearing[];
  readonly links: readonly Link[];
  readonly pads: readonly Pad[];
  readonly holds: readonly Hold[];
  /** Unit direction and m/s2; straight down and standard when left out. */
  readonly gravity?: { readonly direction: Vec3; readonly acceleration: number } | undefined;
}

/** Forces from outside that come on top of gravity. Forces in N, points in mm. */
export interface Disturbance {
  readonly name: string;
  readonly forces: readonly { readonly body: number; readonly force: Vec3; readonly at: Vec3 }[];
}

export const gravityOf = (system: System): { readonly direction: Vec3; readonly acceleration: number } =>
  system.gravity ?? { direction: [0, 0, -1], acceleration: STANDARD_GRAVITY };
