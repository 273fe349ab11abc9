/** Demagnetised by pulses that die away, so that next to no pull is left: our choice. */
const CLEAN_RELEASE = { residual: 0.005, 'demagnetise-seconds': 1 };

/**
 * Grippers of generated cells, all our own invention: long and slender, so that wrists stay clear of the weldment and
 * torches get beside them.
 */
export const GRIPPERS = {
  /** For bars from 50 mm of width on and for plates. */
  magnet: {
    magnet: {
      'pull-per-pad': 2000,
      pads: [
        [-40, 0],
        [40, 0],
      ],
      'pad-diameter': 40,
      'rated-thickness': 5,
      ...CLEAN_RELEASE,
      'arc-distance': 25,
    },
    mass: 4.6,
    reach: 240,
    envelope: { length: 124, width: 46, height: 240 },
    stand: [-850, -900, 800],
  },
  /** For small plates with seams all around. */
  'small-magnet': {
    magnet: {
      'pull-per-pad': 850,
      pads: [
        [-18, 0],
        [18, 0],
      ],
      'pad-diameter': 30,
      'rated-thickness': 5,
      ...CLEAN_RELEASE,
      'arc-distance': 20,
    },
    mass: 1.6,
    reach: 240,
    envelope: { length: 68, width: 40, height: 240 },
    stand: [-850, 900, 800],
  },
  /** For bars that hang on the seam at one end: no pull is left when it opens. */
  jaw: {
    jaw: { force: 3000, stroke: [36, 84], 'pad-diameter': 36, depth: 40, 'opens-by': 8 },
    mass: 4.5,
    reach: 240,
    envelope: { length: 70, width: 50, height: 240 },
    stand: [-650, 900, 800],
  },
} as const;

export type GripperName = keyof typeof GRIPPERS;
