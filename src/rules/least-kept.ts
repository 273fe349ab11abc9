/**
 * By how much less than the clearance counts as kept, mm. Joints are written to 1e-4 degrees, which at a reach of three
 * metres is 0.005 mm a joint; straight moves are followed joint by joint between samples. Our choice, well above both.
 */
const CLEARANCE_ROUNDING = 0.3;

/** The distance below which a clearance (both mm) is not kept: less by rounding, and at least half of a tiny one. */
export const leastKept = (clearance: number): number =>
  Math.max(clearance - CLEARANCE_ROUNDING, clearance / 2);
