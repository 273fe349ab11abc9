import { describe, expect, it } from 'vitest';
import { coolingConstant, metalTemperature, tackHeat } from '../../src/mechanics/tack-cooling.js';
import { hotFactor } from '../../src/mechanics/tack-strength.js';

/**
 * Temperature, C, where an arc has stopped: the heat of a point source (net W) that ran straight to there, mm/s, for so many
 * seconds, by the instantaneous point source of heat conduction (Carslaw and Jaeger, from memory), two thirds of it in a
 * plate with mirror images at its far face. Diffusivity 8 mm2/s and 4.9e-3 J/mm3 K (check-values section 3).
 */
function field(after: number, thickness: number, seconds: number): number {
  const [power, speed, diffusivity, heat] = [3496, 8, 8, 4.9e-3];
  const steps = 4000;
  let rise = 0;
  for (let i = 0; i < steps; i += 1) {
    const before = ((i + 0.5) / steps) * seconds;
    const age = after + before;
    let images = 0;
    for (let k = -20; k <= 20; k += 1)
      images += Math.exp(-((2 * k * thickness) ** 2) / (4 * diffusivity * age));
    const spread = (4 * Math.PI * diffusivity * age) ** 1.5;
    const away = Math.exp(-((speed * before) ** 2) / (4 * diffusivity * age));
    rise += (((2 * power) / (heat * spread)) * away * images * seconds) / steps;
  }
  return 20 + (2 / 3) * rise;
}

describe('a tack that cools', () => {
  // Recomputed by integration; the model is our own estimate and must not be kinder than conduction.
  it('is not taken to be cooler than conduction leaves it two seconds on', () => {
    const thicknesses = [10, 5, 3];
    const conducted = thicknesses.map((thickness) => Math.round(field(2, thickness, 5)));
    expect(conducted).toEqual([281, 434, 709]);
    const modelled = thicknesses.map((thickness) => metalTemperature(2, thickness, 1.2));
    expect(modelled.map(Math.round)).toEqual([300, 542, 812]);
    modelled.forEach((temperature, i) => expect(temperature).toBeGreaterThanOrEqual(conducted[i]!));
  });

  it('starts at the melting range and ends at the workshop', () => {
    expect(metalTemperature(0, 8, 1.2)).toBe(1500);
    expect(metalTemperature(-1, 8, 1.2)).toBe(1500);
    expect(metalTemperature(1e3, 8, 1.2)).toBeCloseTo(20, 9);
    // After one time constant 1/e of the excess of 1480 K is left.
    expect(metalTemperature(1.2, 30, 1.2)).toBeCloseTo(20 + 1480 / Math.E, 9);
    expect([4, 8, 30].map((thinner) => coolingConstant(1.2, thinner))).toEqual([2.4, 1.2, 1.2]);
  });

  it('has the factor of its last point without an arc, and more when the arc took its time', () => {
    const bare = tackHeat(1.1, { thinner: 5, arcSeconds: 0 }, 1.2);
    expect(bare.factor).toBeCloseTo(hotFactor(bare.temperature), 12);
    const slow = tackHeat(1.1, { thinner: 5, arcSeconds: 5 }, 1.2);
    expect(slow.temperature).toBe(bare.temperature);
    expect(slow.factor).toBeGreaterThan(bare.factor);
    // Not more than what the middle of the tack has, which is where the later half begins.
    expect(slow.factor).toBeLessThan(hotFactor(metalTemperature(1.1 + 2.5, 5, 1.2)));
  });

  it('only gains as time goes on, and no more than its cold strength', () => {
    const factors = [0, 0.5, 1, 2, 4, 8, 16].map(
      (seconds) => tackHeat(seconds, { thinner: 4, arcSeconds: 2 }, 1.2).factor,
    );
    expect([...factors].sort((a, b) => a - b)).toEqual(factors);
    expect(factors.at(-1)).toBe(1);
  });
});
