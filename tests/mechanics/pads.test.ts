import { describe, expect, it } from 'vitest';
import {
  gapShare,
  gradeLimit,
  hangingMass,
  jawShear,
  magnetPull,
  padShear,
  padSpin,
  temperatureFactor,
  thicknessFactor,
  vacuumPull,
} from '../../src/mechanics/pads.js';
import { REFERENCE } from '../../src/mechanics/reference.js';
import { STANDARD_GRAVITY } from '../../src/mechanics/system.js';

const magnet = { ratedPull: 2000, gapFactor: 0.75, thickness: 10, ratedThickness: 10, materialFactor: 1 };

describe('magnet pads', () => {
  it('worked value, recomputed (check-values section 6): 2000 N, gap 0.75, factor 3 -> 500 N, 51.0 kg, 42.3 kg', () => {
    const pull = magnetPull(magnet) / 3;
    expect(pull).toBe(500);
    expect(hangingMass(pull, STANDARD_GRAVITY, 0)).toBeCloseTo(51.0, 1);
    expect(hangingMass(pull, STANDARD_GRAVITY, 2)).toBeCloseTo(42.3, 1);
    expect(padShear(pull, 0.2)).toBe(100);
  });

  it('lose pull in proportion on plate thinner than rated, and gain none on thicker', () => {
    expect(thicknessFactor(4, 8)).toBe(0.5);
    expect(thicknessFactor(20, 8)).toBe(1);
    expect(thicknessFactor(1, 0)).toBe(1);
    expect(magnetPull({ ...magnet, thickness: 5 })).toBe(750);
  });

  // Material factors: common practice (check-values section 6).
  it('pull less on cast iron and nothing on austenitic steel or aluminium', () => {
    const on = (materialFactor: number): number => magnetPull({ ...magnet, materialFactor });
    expect(on(REFERENCE.magnetFactors.castIron.value)).toBe(675);
    expect(on(REFERENCE.magnetFactors.austenitic.value)).toBe(0);
    expect(on(REFERENCE.materials.aluminium.magnetic.value)).toBe(0);
    expect(magnetPull({ ...magnet, gapFactor: 1.5 })).toBe(2000);
    expect(magnetPull({ ...magnet, ratedPull: -5 })).toBe(0);
  });

  // Limits of the grades and the loss of 0.12 % a kelvin: from memory (check-values section 6).
  it('lose flux when warm, its square in pull, and all beyond the limit of their grade', () => {
    expect((['N', 'M', 'H', 'SH'] as const).map(gradeLimit)).toEqual([80, 100, 120, 150]);
    expect(temperatureFactor(20, 'N')).toBe(1);
    expect(temperatureFactor(-20, 'N')).toBe(1);
    expect(temperatureFactor(80, 'N')).toBeCloseTo((1 - 60 * 0.0012) ** 2, 12);
    expect(temperatureFactor(80.1, 'N')).toBe(0);
    expect(temperatureFactor(120, 'SH')).toBeCloseTo(0.88 ** 2, 12);
    expect(magnetPull({ ...magnet, temperatureFactor: 0.5 })).toBe(750);
  });

  it('reach across a gap no less than common practice says (check-values section 6)', () => {
    for (const { gap, most } of REFERENCE.magnetFactors.airGaps.value)
      expect(gapShare(gap)).toBeGreaterThanOrEqual(most);
    expect(gapShare(0.2)).toBeCloseTo(0.857, 3);
    expect(gapShare(1)).toBeCloseTo(0.51, 3);
    expect(gapShare(2.5)).toBe(0.25);
    expect(gapShare(50)).toBeLessThan(0.003);
    expect(gapShare(-1)).toBe(1);
  });

  it('spin at 2/3 mu P R: the integral of friction over the disc, recomputed by rings', () => {
    const [pull, friction, radius, rings] = [500, 0.2, 50, 2000];
    const pressure = pull / (Math.PI * radius ** 2);
    const moment = Array.from({ length: rings }, (_, i) => ((i + 0.5) * radius) / rings)
      .map((r) => friction * pressure * 2 * Math.PI * r * r * (radius / rings))
      .reduce((a, b) => a + b, 0);
    expect(padSpin(pull, friction, radius)).toBeCloseTo(moment, 2);
  });
});

describe('suction cups and jaws', () => {
  it('worked value, recomputed (check-values section 6): 60 kPa on a cup of 50 mm pull 117.8 N', () => {
    const cup = { pressure: 60, diameter: 50, surfaceFactor: 1 };
    expect(vacuumPull(cup)).toBeCloseTo(117.8, 1);
    expect(vacuumPull({ ...cup, surfaceFactor: 0.8 })).toBeCloseTo(94.25, 2);
    expect(vacuumPull({ ...cup, diameter: 100 })).toBeCloseTo(4 * 117.81, 1);
    expect(vacuumPull({ ...cup, pressure: -1 })).toBe(0);
  });

  it('carry 2 mu F along the faces of a jaw', () => {
    expect(jawShear(200, 0.2)).toBe(80);
  });
});
