import { REFERENCE } from './reference.js';

export type ToleranceClass = 'A' | 'B' | 'C' | 'D';
export type FormClass = 'E' | 'F' | 'G' | 'H';

const { linear, angular, straightness } = REFERENCE.generalTolerances;

/** The value of the first range that a length is not beyond, else that of the last. */
const ofRange = (upTo: readonly number[], values: readonly number[], length: number): number => {
  const range = upTo.findIndex((limit) => length <= limit);
  return values[range < 0 ? upTo.length : range]!;
};

/** General tolerance of a length of a weldment, +- mm, by ISO 13920 table 1; lengths under 2 mm count as the first range. */
export const linearTolerance = (of: ToleranceClass, nominal: number): number =>
  ofRange(linear.value.upTo, linear.value.classes[of], nominal);

/** An angular tolerance, as the standard gives it twice: +- radians, and +- mm per mm of the shorter leg. */
export interface AngularTolerance {
  readonly radians: number;
  readonly perLength: number;
}

/** General tolerance of an angle of a weldment by the length of its shorter leg, mm (ISO 13920 table 2). */
export const angularTolerance = (of: ToleranceClass, shorterLeg: number): AngularTolerance => ({
  radians: (ofRange(angular.value.upTo, angular.value.minutes[of], shorterLeg) * Math.PI) / (180 * 60),
  perLength: ofRange(angular.value.upTo, angular.value.perMetre[of], shorterLeg) / 1000,
});

/**
 * General tolerance of straightness, flatness or parallelism, mm, by the length of the surface's longer side
 * (ISO 13920 table 3, classes G and H from memory); lengths under 30 mm count as the first range (our choice).
 */
export const straightnessTolerance = (of: FormClass, length: number): number =>
  ofRange(straightness.value.upTo, straightness.value.classes[of], length);
