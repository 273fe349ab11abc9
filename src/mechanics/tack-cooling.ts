import { REFERENCE } from './reference.js';
import { hotFactor } from './tack-strength.js';

/**
 * A tack some time after its arc: the temperature in C where the arc ended, and the share of its cold strength that its later
 * half has then.
 */
export interface TackHeat {
  readonly temperature: number;
  readonly factor: number;
}

/** A tack that cools: thickness of the thinner part, mm, and seconds for which its arc burned, at least. */
export interface CoolingTack {
  readonly thinner: number;
  readonly arcSeconds: number;
}

/** Pieces of the later half that are looked at. */
const PIECES = 8;

/**
 * Seconds in which the excess temperature of a tack falls to 1/e where the thinner part has this thickness, mm; `constant`
 * is that of thick parts. Heat leaves a tack on thick parts in all directions, on thin ones only along them, so it takes
 * longer, in proportion (our estimate).
 */
export const coolingConstant = (constant: number, thinner: number): number =>
  constant * Math.max(1, REFERENCE.welds.cooling.value.fullThickness / thinner);

/**
 * Temperature of weld metal so many seconds after the arc was there, C: it starts at the melting range and its excess over
 * the workshop falls exponentially. Our estimate: with 1.2 s it gives 300, 542 and 812 C after 2 s on 10, 5 and 3 mm. The heat
 * conducted away from a source that lays 40 mm at 8 mm/s with 3.5 kW net and stops there, two thirds of it in the plate and
 * mirrored at its far face, leaves 281, 434 and 709 C where it stopped, so the estimate errs high there. A hotter arc cools
 * more slowly.
 */
export function metalTemperature(seconds: number, thinner: number, constant: number): number {
  const { start, around } = REFERENCE.welds.cooling.value;
  return around + (start - around) * Math.exp(-Math.max(0, seconds) / coolingConstant(constant, thinner));
}

/**
 * A tack `seconds` after its arc. Each piece has cooled since the arc was there; of the two forces by which statics takes a
 * tack, one for each half, the later half decides.
 */
export function tackHeat(seconds: number, { thinner, arcSeconds }: CoolingTack, constant: number): TackHeat {
  let sum = 0;
  for (let piece = 0; piece < PIECES; piece += 1) {
    const since = seconds + ((piece + 0.5) / PIECES) * (arcSeconds / 2);
    sum += hotFactor(metalTemperature(since, thinner, constant));
  }
  return { temperature: metalTemperature(seconds, thinner, constant), factor: sum / PIECES };
}
