/** A value with where it was taken from. Tags: "common practice" has no source; "from memory" was not looked up. */
export interface Sourced<T> {
  readonly value: T;
  readonly source: string;
}

const sourced = <T>(value: T, source: string): Sourced<T> => ({ value, source });

const STEEL = 'EN 1993-1-1 3.2.6';
const STAINLESS = 'EN 10088-1';
const ALUMINIUM = 'EN 1999-1-1 3.2.5';
const PRACTICE = 'common practice';

/** Density kg/m3, modulus MPa, expansion 1/K, and the share of a magnet's rated pull that the material leaves. */
export interface MaterialConstants {
  readonly density: Sourced<number>;
  readonly modulus: Sourced<number>;
  readonly expansion: Sourced<number>;
  readonly magnetic: Sourced<number>;
}

const steel: MaterialConstants = {
  density: sourced(7850, STEEL),
  modulus: sourced(210_000, STEEL),
  expansion: sourced(12e-6, STEEL),
  magnetic: sourced(1, PRACTICE),
};

/** Yield strength f_y and tensile strength f_u in MPa (t <= 40 mm) and correlation factor beta_w of a structural steel. */
export interface SteelGrade {
  readonly yieldStrength: Sourced<number>;
  readonly tensileStrength: Sourced<number>;
  readonly correlationFactor: Sourced<number>;
  readonly material: MaterialConstants;
}

const grade = (yieldStrength: number, tensileStrength: number, correlationFactor: number): SteelGrade => ({
  yieldStrength: sourced(yieldStrength, 'EN 1993-1-1 table 3.1, t <= 40 mm'),
  tensileStrength: sourced(tensileStrength, 'EN 1993-1-1 table 3.1, t <= 40 mm'),
  correlationFactor: sourced(correlationFactor, 'EN 1993-1-8 table 4.1'),
  material: steel,
});

/** Reference tables of the mechanics, each value with its source. Nothing here is a limit that code enforces. */
export const REFERENCE = {
  steelGrades: { S235: grade(235, 360, 0.8), S275: grade(275, 430, 0.85), S355: grade(355, 490, 0.9) },
  materials: {
    mildSteel: steel,
    '1.4301': {
      density: sourced(7900, STAINLESS),
      modulus: sourced(200_000, STAINLESS),
      expansion: sourced(16e-6, STAINLESS),
      magnetic: sourced(0, PRACTICE),
    },
    aluminium: {
      density: sourced(2700, ALUMINIUM),
      modulus: sourced(70_000, ALUMINIUM),
      expansion: sourced(23e-6, ALUMINIUM),
      magnetic: sourced(0, PRACTICE),
    },
  },
  /** Share of a magnet's rated pull by material group, and what is left of it over an air gap (mm, least, most). */
  magnetFactors: {
    mildSteel: sourced(1, PRACTICE),
    castIron: sourced(0.45, PRACTICE),
    austenitic: sourced(0, PRACTICE),
    aluminium: sourced(0, PRACTICE),
    friction: sourced(0.2, PRACTICE),
    airGaps: sourced(
      [
        { gap: 0, least: 1, most: 1 },
        { gap: 0.2, least: 0.7, most: 0.8 },
        { gap: 1, least: 0.3, most: 0.5 },
      ],
      PRACTICE,
    ),
  },
  /** Neodymium magnets: limit of each temperature grade in C, and reversible loss a kelvin. */
  magnetGrades: {
    limits: sourced({ N: 80, M: 100, H: 120, SH: 150 }, 'from memory'),
    lossPerKelvin: sourced(0.0012, 'from memory'),
  },
  /** Factors of pull over weight that are asked of crane attachments: benchmarks for a gripper, never limits. */
  liftingFactors: {
    permanentMagnet: sourced(3, 'ASME B30.20'),
    electromagnet: sourced(2, 'ASME B30.20'),
    vacuum: sourced(2, 'ASME B30.20, from memory'),
  },
  /** Partial factor of welds, and strength of a hot fillet as a share of the cold one by temperature in C. */
  welds: {
    partialFactor: sourced(1.25, 'EN 1993-1-8 table 2.1, gamma_M2'),
    hotStrength: sourced(
      [
        [20, 1],
        [300, 1],
        [400, 0.876],
        [500, 0.627],
        [600, 0.378],
        [700, 0.13],
        [800, 0.074],
        [900, 0.018],
        [1000, 0],
      ] as const,
      'EN 1993-1-2 table D.1, from memory',
    ),
  },
  /** Share of the energy of the arc that counts as heat input. */
  arcEfficiency: sourced(
    { submerged: 1, manual: 0.8, gasMetal: 0.8, fluxCored: 0.8, tig: 0.6, plasma: 0.6 },
    'EN 1011-1',
  ),
  /**
   * Shrinkage of continuous welds; the methods differ by a factor of two. Factors of formulas in mechanics/shrinkage.ts and
   * mechanics/bow.ts; the angle of a fillet in inches, its range in degrees; longitudinal as mm per mm.
   */
  shrinkage: {
    buttTransverse: sourced(0.1, 'Blodgett: 0.10 Aw / t'),
    buttTransverseWithRoot: sourced({ area: 0.2, root: 0.05 }, 'Spraragen and Ettinger: 0.2 Aw / t + 0.05 d'),
    filletPairTransverse: sourced(1.02, 'published for a T of two continuous fillets: 1.02 leg / t'),
    lapPairTransverse: sourced(1.52, 'published for a lap of two continuous fillets: 1.52 leg / t'),
    restraint: sourced({ factor: 0.086, power: 0.87 }, 'published: S / (1 + 0.086 ks^0.87)'),
    buttLongitudinal: sourced(305e-7, 'King: 305 I L / t 1e-7, from memory'),
    longitudinal: sourced(
      { fillet: 0.8 / 3000, butt: 3 / 3000 },
      'TWI allowances: fillet 0.8 mm per 3 m, butt 3 mm per 3 m',
    ),
    filletAngle: sourced(0.04, 'Blodgett: edge of a flange 0.02 W leg^1.3 / t^2 in inches, from memory'),
    filletAngleRange: sourced({ least: 1, most: 3 }, 'published range of single continuous fillets'),
    buttAngleRange: sourced({ least: 3, most: 5 }, 'published range of single V welds'),
    bow: sourced(0.005, 'Blodgett: 0.005 Aw d L^2 / I, from memory'),
    tendonForce: sourced(200, 'tendon force 0.2 Q in kN, Q in J/mm: N per J/mm; from memory'),
    okerblom: sourced({ factor: 0.335, heatCapacity: 4.9e-3 }, 'Okerblom, from memory'),
  },
  /** General tolerances of welded constructions, +- mm: by the nominal length up to and with, then over the last. */
  generalTolerances: {
    linear: sourced(
      {
        upTo: [30, 120, 400, 1000, 2000, 4000, 8000, 12_000, 16_000, 20_000],
        classes: {
          A: [1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9],
          B: [1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16],
          C: [1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27],
          D: [1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40],
        },
      },
      'ISO 13920 table 1',
    ),
    /** By the length of the shorter leg; degrees and minutes of arc, and the same as mm per m. */
    angular: sourced(
      {
        upTo: [400, 1000],
        minutes: { A: [20, 15, 10], B: [45, 30, 20], C: [60, 45, 30], D: [90, 75, 60] },
        perMetre: { A: [6, 4.5, 3], B: [13, 9, 6], C: [18, 13, 9], D: [26, 22, 18] },
      },
      'ISO 13920 table 2',
    ),
    /** Straightness, flatness and parallelism. */
    straightness: sourced(
      {
        upTo: [120, 400, 1000, 2000, 4000, 8000, 12_000, 16_000, 20_000],
        classes: {
          E: [0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8],
          F: [1, 1.5, 3, 4.5, 6, 8, 10, 12, 14, 16],
          G: [1.5, 3, 5.5, 9, 11, 16, 20, 22, 25, 25],
          H: [2.5, 5, 9, 14, 18, 26, 32, 36, 40, 40],
        },
      },
      'ISO 13920 table 3; classes G and H from memory',
    ),
  },
  /** Where tacks go; lengths in mm, multiples of the thickness of the thicker part. */
  tackRules: {
    pitchInThicknesses: sourced({ least: 20, most: 40 }, PRACTICE),
    greatestPitch: sourced(300, PRACTICE),
    thinSheetPitch: sourced({ least: 50, most: 75 }, PRACTICE),
    endDistance: sourced({ least: 10, most: 25 }, PRACTICE),
    endDistanceInThicknesses: sourced(1, PRACTICE),
    leastPerSeam: sourced(2, PRACTICE),
  },
} as const;
