import { REFERENCE } from './reference.js';
import { hotFactor } from './tack-strength.js';

/** A tack some time after its arc: its temperature in C, and the share of its cold strength that it has then. */
export interface TackHeat {
  readonly temperature: number;
  readonly factor: number;
}

/**
 * Seconds in which the excess temperature of a tack falls to 1/e where the thinner part has this thickness, mm; `constant`
 * is that of thick parts. Heat leaves a tack on thick parts in all directions, on thin ones only along them, so it takes
 * longer, in proportion (our estimate).
 */
export const coolingConstant = (constant: number, thinner: number): number =>
  constant * Math.max(1, REFERENCE.welds.cooling.value.fullThickness / thinner);

/**
 * A tack `seconds` after its arc: it starts at the melting range and its excess over the workshop falls exponentially. Our
 * estimate: with 1.2 s it gives 300, 542 and 812 C after 2 s on 10, 5 and 3 mm. The heat conducted away from a source that
 * lays 40 mm at 8 mm/s with 3.5 kW net and stops there, two thirds of it in the plate and mirrored at its far face, leaves
 * 281, 434 and 709 C where it stopped, so the estimate errs high there. A hotter arc cools more slowly.
 */
export function tackHeat(seconds: number, thinner: number, constant: number): TackHeat {
  const { start, around } = REFERENCE.welds.cooling.value;
  const left = Math.exp(-Math.max(0, seconds) / coolingConstant(constant, thinner));
  const temperature = around + (start - around) * left;
  return { temperature, factor: hotFactor(temperature) };
}
