import { describe, expect, it } from 'vitest';
import { blodgettBow, bow, okerblomForce, tendonForce } from '../../src/mechanics/bow.js';
import { REFERENCE } from '../../src/mechanics/reference.js';

// Check-values section 3: the worked values are recomputed [R], the formulas from memory [M], so this checks the coding only.
describe('bow of slender parts', () => {
  const PART = { length: 2000, modulus: 210_000, inertia: 4e6 };
  const whole = { from: 0, to: 2000, force: 160_000, eccentricity: 60 };

  it('0.005 Aw d L^2 / I: 18, 60, 2000, 4e6 -> 5.400 mm (Blodgett) [M, R]', () => {
    expect(blodgettBow(18, 60, 2000, 4e6)).toBeCloseTo(5.4, 9);
  });

  it('tendon force 0.2 Q: 800 J/mm -> 160 kN [M, R]', () => {
    expect(tendonForce(800)).toBeCloseTo(160_000, 6);
  });

  it('Okerblom 0.335 (alpha / c rho) E Q: 800 J/mm of steel -> 137.8 kN [M, R]', () => {
    const { expansion, modulus } = REFERENCE.materials.mildSteel;
    expect(okerblomForce(800, expansion.value, modulus.value)).toBeCloseTo(137_829, 0);
  });

  it('F e L^2 / (8 E I): 160 kN, e 60, 2000, I 4e6 -> 5.714 mm [M, R]', () => {
    expect(bow(PART, [whole])).toBeCloseTo(5.714, 3);
  });

  it('welds on opposite sides cancel, pieces add up to the whole', () => {
    expect(bow(PART, [whole, { ...whole, eccentricity: -60 }])).toBeCloseTo(0, 12);
    const pieces = [0, 300, 900, 1100, 2000];
    const welds = pieces.slice(1).map((to, i) => ({ ...whole, from: pieces[i]!, to }));
    expect(bow(PART, welds)).toBeCloseTo(bow(PART, [whole]), 9);
  });

  it('a short weld in the middle kinks the part: F e l / (E I) as an angle, a quarter of L times that as the bow', () => {
    const kink = (160_000 * 60 * 2) / (210_000 * 4e6);
    expect(bow(PART, [{ ...whole, from: 999, to: 1001 }])).toBeCloseTo((kink * 2000) / 4, 4);
    expect(bow(PART, [{ ...whole, from: 0, to: 2 }])).toBeCloseTo(0, 4);
  });
});
