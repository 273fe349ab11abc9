import { REFERENCE } from './reference.js';

/** Strength figures of the weaker steel joined: f_u in MPa and beta_w; gamma_M2 is 1.25 when left out. */
export interface WeldSteel {
  readonly tensileStrength: number;
  readonly correlationFactor: number;
  readonly partialFactor?: number | undefined;
}

/** Stresses in the throat of a fillet, MPa: square to it, across its plane, and along the weld. */
export interface ThroatStress {
  readonly square: number;
  readonly across: number;
  readonly along: number;
}

const partialFactor = (steel: WeldSteel): number =>
  steel.partialFactor ?? REFERENCE.welds.partialFactor.value;

/**
 * Effective throat of an equal-leg fillet, mm: (leg - gap) / sqrt 2, never below zero. A root gap takes its own
 * width from the leg that stands on the lifted part; both legs are taken as so shortened, which errs low
 * (AWS D1.1 5.21.1 adds the opening to the leg for the same reason, from memory).
 */
export const throat = (leg: number, gap: number): number => Math.max(0, leg - Math.max(0, gap)) / Math.SQRT2;

/** Design shear strength of a fillet, MPa: f_u / (sqrt 3 beta_w gamma_M2) (EN 1993-1-8 4.5.3.3). */
export const shearStrength = (steel: WeldSteel): number =>
  steel.tensileStrength / (Math.sqrt(3) * steel.correlationFactor * partialFactor(steel));

/** Strength of a fillet in any direction, N per mm of effective length, simplified method (EN 1993-1-8 4.5.3.3). */
export const strengthPerLength = (throatSize: number, steel: WeldSteel): number =>
  throatSize * shearStrength(steel);

/**
 * Directional method (EN 1993-1-8 4.5.3.2): the equivalent stress sqrt(s^2 + 3 (t_across^2 + t_along^2)) and its
 * limit f_u / (beta_w gamma_M2), the square stress and its limit 0.9 f_u / gamma_M2, all in MPa, and the greater of
 * the two uses (1 is just enough).
 */
export function directionalCheck(
  stress: ThroatStress,
  steel: WeldSteel,
): {
  readonly equivalent: number;
  readonly limit: number;
  readonly squareLimit: number;
  readonly use: number;
} {
  const equivalent = Math.sqrt(stress.square ** 2 + 3 * (stress.across ** 2 + stress.along ** 2));
  const limit = steel.tensileStrength / (steel.correlationFactor * partialFactor(steel));
  const squareLimit = (0.9 * steel.tensileStrength) / partialFactor(steel);
  return {
    equivalent,
    limit,
    squareLimit,
    use: Math.max(equivalent / limit, Math.abs(stress.square) / squareLimit),
  };
}

/**
 * Strength of a fillet loaded at an angle (degrees from its line) over its strength along the line:
 * 1 + 0.5 sin^1.5 (AISC 360 J2.4).
 */
export const directionFactor = (degrees: number): number =>
  1 + 0.5 * Math.abs(Math.sin((degrees * Math.PI) / 180)) ** 1.5;

/** Length that counts by the code, mm: the length less one throat at each end, never below zero (EN 1993-1-8 4.5.1). */
export const effectiveLength = (length: number, throatSize: number): number =>
  Math.max(0, length - 2 * throatSize);

/** Least effective length by the code, mm: 30 mm and six throats (EN 1993-1-8 4.5.1). */
export function leastEffectiveLength(throatSize: number): number {
  const { millimetres, throats } = REFERENCE.welds.leastEffectiveLength.value;
  return Math.max(millimetres, throats * throatSize);
}

/** Whether a fillet may carry load by the code at all: whether it has the least effective length (4.5.1). */
export const carriesByCode = (length: number, throatSize: number): boolean =>
  throatSize > 0 && effectiveLength(length, throatSize) >= leastEffectiveLength(throatSize);

/** Strength of a tack by the code, N: nil when it is too short to count (EN 1993-1-8 4.5.1 and 4.5.3.3). */
export const codeStrength = (length: number, throatSize: number, steel: WeldSteel): number =>
  carriesByCode(length, throatSize)
    ? strengthPerLength(throatSize, steel) * effectiveLength(length, throatSize)
    : 0;

/**
 * Strength of a hot fillet as a share of the cold one, straight between the points of EN 1993-1-2 table D.1 (from
 * memory); temperature in C. The table is for fire; using it for a tack that cools is our assumption.
 */
export function hotFactor(temperature: number): number {
  const table = REFERENCE.welds.hotStrength.value;
  const above = table.findIndex(([at]) => at >= temperature);
  if (above < 0) return 0;
  if (above === 0) return 1;
  const [low, high] = [table[above - 1]!, table[above]!];
  return low[1] + ((high[1] - low[1]) * (temperature - low[0])) / (high[0] - low[0]);
}

/**
 * Temporary-strength model of a tack while the weldment is being put together, N: the code's shear strength over the
 * whole length, however short, times the hot factor. Not a strength by any code: it says what a sound tack can be
 * expected to hold for minutes, under the reserves that the plan asks for. Sizes in mm, temperature in C.
 */
export const temporaryStrength = (
  length: number,
  throatSize: number,
  steel: WeldSteel,
  temperature: number,
): number => strengthPerLength(throatSize, steel) * Math.max(0, length) * hotFactor(temperature);
