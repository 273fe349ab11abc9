import { describe, expect, it } from 'vitest';
import { REFERENCE } from '../../src/mechanics/reference.js';
import type { WeldSteel } from '../../src/mechanics/tack-strength.js';
import {
  carriesByCode,
  codeStrength,
  directionFactor,
  directionalCheck,
  effectiveLength,
  hotFactor,
  shearStrength,
  strengthPerLength,
  temporaryStrength,
  throat,
} from '../../src/mechanics/tack-strength.js';

const gradeOf = (name: keyof typeof REFERENCE.steelGrades): WeldSteel => ({
  tensileStrength: REFERENCE.steelGrades[name].tensileStrength.value,
  correlationFactor: REFERENCE.steelGrades[name].correlationFactor.value,
});

describe('fillet strength, EN 1993-1-8', () => {
  // Recomputed table of check-values section 2.
  it.each([
    ['S235', 207.85, [623.5, 831.4, 1039.2]],
    ['S275', 233.66, [701.0, 934.6, 1168.3]],
    ['S355', 251.47, [754.4, 1005.9, 1257.3]],
  ] as const)('%s: f_vw,d %f MPa, and N/mm at throats of 3, 4 and 5 mm', (name, shear, table) => {
    expect(shearStrength(gradeOf(name))).toBeCloseTo(shear, 2);
    expect([3, 4, 5].map((size) => Math.round(strengthPerLength(size, gradeOf(name)) * 10) / 10)).toEqual(
      table,
    );
  });

  // Published worked value (check-values section 2): 2 x 150 mm, a = 4.2, f_u 410, beta 0.85, l_eff = l - 2a.
  it('carries 265.0 kN in two welds of 150 mm', () => {
    const steel = { tensileStrength: 410, correlationFactor: 0.85 };
    expect(effectiveLength(150, 4.2)).toBeCloseTo(141.6, 9);
    expect((2 * codeStrength(150, 4.2, steel)) / 1000).toBeCloseTo(265.0, 1);
  });

  // Published worked value (check-values section 2): a = 5, L = 100, 10 kN at 45 degrees, f_u 470.
  it('directional: 14.14 square and across give 28.28 against 417.8 MPa', () => {
    const stress = (10_000 / (5 * 100)) * Math.SQRT1_2;
    const check = directionalCheck(
      { square: stress, across: stress, along: 0 },
      { tensileStrength: 470, correlationFactor: 0.9 },
    );
    expect(stress).toBeCloseTo(14.14, 2);
    expect(check.equivalent).toBeCloseTo(28.28, 2);
    expect(check.limit).toBeCloseTo(417.8, 1);
    expect(check.squareLimit).toBeCloseTo(338.4, 9);
    expect(check.use).toBeCloseTo(28.28 / 417.8, 4);
  });

  // Recomputed (check-values section 2): a transverse fillet carries sqrt(1.5) times a longitudinal one.
  it('transverse over longitudinal is sqrt 1.5', () => {
    const steel = gradeOf('S355');
    const half = Math.SQRT1_2;
    const transverse = directionalCheck({ square: half, across: half, along: 0 }, steel).use;
    const longitudinal = directionalCheck({ square: 0, across: 0, along: 1 }, steel).use;
    expect(longitudinal / transverse).toBeCloseTo(Math.sqrt(1.5), 9);
    expect(directionalCheck({ square: -400, across: 0, along: 0 }, steel).use).toBeCloseTo(
      400 / ((0.9 * 490) / 1.25),
      9,
    );
  });

  // Published values of AISC 360 J2.4 (check-values section 2).
  it('AISC direction factor', () => {
    const factors = [0, 30, 45, 60, 90].map((degrees) => Math.round(directionFactor(degrees) * 1e4) / 1e4);
    expect(factors).toEqual([1, 1.1768, 1.2973, 1.403, 1.5]);
  });
});

describe('tacks', () => {
  // EN 1993-1-8 4.5.1 (check-values section 1).
  it('of 20 mm carry no load by the code, though they hold by the temporary model', () => {
    const steel = gradeOf('S235');
    expect(carriesByCode(20, 3.5)).toBe(false);
    expect(codeStrength(20, 3.5, steel)).toBe(0);
    expect(temporaryStrength(20, 3.5, steel, 20)).toBeCloseTo(3.5 * 20 * 207.85, 0);
    expect(carriesByCode(37, 3.5)).toBe(true);
    expect(carriesByCode(36.9, 3.5)).toBe(false);
    expect(carriesByCode(55.9, 7)).toBe(false);
    expect(carriesByCode(56, 7)).toBe(true);
    expect(carriesByCode(100, 0)).toBe(false);
  });

  // Recomputed (check-values section 10): S235, a = 3.5 -> 727.5 N/mm; 36.11 N/mm is a use of 0.0496.
  it('727.5 N/mm at a throat of 3.5 mm in S235', () => {
    expect(strengthPerLength(3.5, gradeOf('S235'))).toBeCloseTo(727.5, 1);
    expect(36.11 / strengthPerLength(3.5, gradeOf('S235'))).toBeCloseTo(0.0496, 4);
  });

  it('lose throat to the root gap, down to none', () => {
    expect(throat(5, 0)).toBeCloseTo(3.5355, 4);
    expect(throat(5, 1)).toBeCloseTo(4 / Math.SQRT2, 9);
    expect(throat(5, 6)).toBe(0);
    expect(throat(5, -1)).toBe(throat(5, 0));
  });

  // EN 1993-1-2 table D.1, from memory (check-values section 2).
  it('are weaker hot, straight between the points of the table', () => {
    expect([20, 300, 400, 500, 600, 700].map(hotFactor)).toEqual([1, 1, 0.876, 0.627, 0.378, 0.13]);
    expect(hotFactor(-10)).toBe(1);
    expect(hotFactor(350)).toBeCloseTo(0.938, 9);
    expect(hotFactor(1200)).toBe(0);
    expect(temporaryStrength(40, 3.5, gradeOf('S235'), 500)).toBeCloseTo(0.627 * 40 * 727.46, 0);
    expect(temporaryStrength(-1, 3.5, gradeOf('S235'), 20)).toBe(0);
  });
});
