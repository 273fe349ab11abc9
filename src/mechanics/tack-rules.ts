/** The rule by which the least length of a tack is set. */
export type TackLengthRule = 'en1090' | 'en1011';

/** No rule asks for a longer tack, mm. */
const LONGEST_LEAST = 50;
/** EN 1011-2 allows less than 50 mm only below this thickness, mm. */
const THIN_BELOW = 12;

/**
 * Least length of a tack, mm, by the thickness of the thicker part in mm.
 * - `en1090`: the smaller of four thicknesses and 50 mm (EN 1090-2 clause 7.5.7, from memory).
 * - `en1011`: 50 mm, below 12 mm of thickness four thicknesses (EN 1011-2 clause 13).
 */
export const leastTackLength = (rule: TackLengthRule, thickness: number): number =>
  rule === 'en1090'
    ? Math.min(4 * thickness, LONGEST_LEAST)
    : thickness < THIN_BELOW
      ? 4 * thickness
      : LONGEST_LEAST;

/** Least leg of a fillet, mm, by the thickness in mm of the part (AWS D1.1, table of least fillet sizes). */
export const leastFilletLeg = (thickness: number): number =>
  thickness <= 6 ? 3 : thickness <= 12 ? 5 : thickness <= 20 ? 6 : 8;
