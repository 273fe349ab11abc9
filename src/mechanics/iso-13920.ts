import { REFERENCE } from './reference.js';

export type ToleranceClass = 'A' | 'B' | 'C' | 'D';

/** General tolerance of a length of a weldment, +- mm, by ISO 13920 table 1; lengths under 2 mm count as the first range. */
export function linearTolerance(of: ToleranceClass, nominal: number): number {
  const { upTo, classes } = REFERENCE.generalTolerances.linear.value;
  const range = upTo.findIndex((limit) => nominal <= limit);
  return classes[of][range < 0 ? upTo.length : range]!;
}
