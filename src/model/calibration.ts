import type { Told } from '../algorithms/least-squares.js';
import type { Settings } from './settings.js';
import type { Measurement } from './measurement.js';

/** The factors of `settings.distortion` that can be fitted to measurements, in their order. */
export const FACTORS = ['transverse', 'longitudinal', 'angular'] as const;

export type FactorName = (typeof FACTORS)[number];

/** What a calibration came to for one factor. */
export interface FittedFactor {
  readonly name: FactorName;
  /** What the plan was made with. */
  readonly before: number;
  readonly value: number;
  readonly told: Told;
  /** 95 % confidence interval; undefined where the data give none. */
  readonly interval: readonly [number, number] | undefined;
}

/** A measured deviation beside what the replay predicts, mm. */
export interface FittedMeasurement extends Measurement {
  /** With the factors of the plan. */
  readonly before: number;
  /** With the fitted factors. */
  readonly predicted: number;
}

/** Factors fitted to measured deviations. */
export interface Calibration {
  readonly weldment: string;
  readonly factors: readonly FittedFactor[];
  readonly measurements: readonly FittedMeasurement[];
  /** Measurements less fitted factors. */
  readonly freedom: number;
  /** Of the fit, mm; undefined without freedom. */
  readonly standardError: number | undefined;
  /** False when the fit was stopped before it came to rest. */
  readonly settled: boolean;
  /** Those of the plan with the fitted factors and their origin. */
  readonly settings: Settings;
}
