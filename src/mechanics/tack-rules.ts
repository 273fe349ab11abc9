import { REFERENCE } from './reference.js';

/** The published rules by which the least length of a tack is set. */
export type TackLengthRule = 'en1090' | 'en1011';

/**
 * Least length of a tack, mm, by the thickness of the thicker part in mm.
 * - `en1090`: the smaller of four thicknesses and 50 mm (EN 1090-2 clause 7.5.7, from memory).
 * - `en1011`: 50 mm, below 12 mm of thickness four thicknesses (EN 1011-2 clause 13).
 */
export function leastTackLength(rule: TackLengthRule, thickness: number): number {
  const { en1090, en1011 } = REFERENCE.tackRules.leastLength;
  if (rule === 'en1090') return Math.min(en1090.value.thicknesses * thickness, en1090.value.most);
  return thickness < en1011.value.below ? en1011.value.thicknesses * thickness : en1011.value.most;
}

/** Least leg of a fillet, mm, by the thickness in mm of the part (AWS D1.1, table of least fillet sizes). */
export const leastFilletLeg = (thickness: number): number =>
  REFERENCE.tackRules.leastFilletLeg.value.find(({ upTo }) => thickness <= upTo)?.leg ??
  REFERENCE.tackRules.leastFilletLegBeyond.value;

/** An intermittent weld as a drawing gives it: how many runs, each how long, and the clear gap between them, mm. */
export interface Intermittent {
  readonly runs: number;
  readonly length: number;
  readonly gap: number;
}

/** Distance of the middles of neighbouring runs, mm (ISO 2553: n x l (e), e the clear gap). */
export const pitchOf = ({ length, gap }: Intermittent): number => length + gap;

/** From the start of the first run to the end of the last, mm. */
export const spanOf = ({ runs, length, gap }: Intermittent): number => runs * length + (runs - 1) * gap;
