import { rounded } from '../base/order.js';
import type { FeatureDeviation } from './distortion-features.js';

/** Decimals to which a plan states deviations and limits, mm. */
const DIGITS = 3;

/**
 * How far the tolerance features are beyond their limits, summed, in tenths of a millimetre, rounded up: what the term
 * `distortion` of an objective counts. Works on figures as a plan states them, so that planner and checker count alike.
 */
export function excessTenths(features: readonly Pick<FeatureDeviation, 'deviation' | 'limit'>[]): number {
  const beyond = features.reduce(
    (sum, { deviation, limit }) => sum + Math.max(0, rounded(deviation, DIGITS) - rounded(limit, DIGITS)),
    0,
  );
  return Math.max(0, Math.ceil(beyond * 10 - 1e-6));
}
