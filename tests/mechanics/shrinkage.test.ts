import { describe, expect, it } from 'vitest';
import { REFERENCE } from '../../src/mechanics/reference.js';
import {
  buttAngle,
  buttLongitudinal,
  buttTransverse,
  buttTransverseWithRoot,
  filletAngle,
  filletTransverse,
  heatInput,
  lapTransverse,
  restrained,
  tackShrinkage,
  weldShrinkage,
  type TackSize,
} from '../../src/mechanics/shrinkage.js';

// Check-values sections 3 and 4: [P] published, [R] recomputed independently, [M] from memory (checks the coding only).
describe('published formulas of shrinkage', () => {
  it('butt, 0.10 Aw / t: t 10, Aw 56.95 -> 0.570 mm (Blodgett) [P, R]', () => {
    expect(buttTransverse(56.95, 10)).toBeCloseTo(0.57, 3);
  });

  it('butt, 0.2 Aw / t + 0.05 d: the same with d 2 -> 1.239 mm (Spraragen and Ettinger) [P, R]', () => {
    expect(buttTransverseWithRoot(56.95, 10, 2)).toBeCloseTo(1.239, 3);
  });

  it('T of two fillets, 1.02 leg / t: 6 on 10 -> 0.612 mm [P, R]; a quarter welded -> 0.153 [M, R]', () => {
    expect(filletTransverse(6, 10)).toBeCloseTo(0.612, 9);
    expect(filletTransverse(6, 10, 0.25)).toBeCloseTo(0.153, 9);
  });

  it('lap of two fillets, 1.52 leg / t: 6 on 10 -> 0.912 mm [P, R]', () => {
    expect(lapTransverse(6, 10)).toBeCloseTo(0.912, 9);
  });

  it('restrained, S / (1 + 0.086 ks^0.87): 100 with ks 647.3872 -> 4.000 [P, R]', () => {
    expect(restrained(100, 647.3872)).toBeCloseTo(4, 4);
    expect(restrained(0.5, 0)).toBe(0.5);
  });

  it('along a butt, 305 I L / t 1e-7: 250 A, 1000, 8 -> 0.953 mm (King) [M, R]', () => {
    expect(buttLongitudinal(250, 1000, 8)).toBeCloseTo(0.953, 3);
  });

  it('along a weld, TWI allowances: fillet 0.8 mm and butt 3 mm per 3 m [P]', () => {
    const weld = { leg: 5, length: 3000, thicknessA: 10, thicknessB: 10 };
    const none = { transverse: 0, longitudinal: 1, angular: 0 };
    expect(weldShrinkage({ ...weld, type: 'fillet' }, none).longitudinal).toBeCloseTo(0.8, 9);
    expect(weldShrinkage({ ...weld, type: 'butt' }, none).longitudinal).toBeCloseTo(3, 9);
  });

  it('across a fillet, TWI allowance 0.8 mm per weld (leg up to 3/4 t): ours stays under it [P]', () => {
    for (const t of [6, 8, 10, 12, 20]) expect(filletTransverse(0.75 * t, t) / 2).toBeLessThanOrEqual(0.8);
  });
});

describe('angles of continuous welds, against published ranges only', () => {
  const degrees = (radians: number): number => (radians * 180) / Math.PI;

  // Single fillet T, 1 to 3 degrees [P]: usual legs for the thickness (AWS least legs and one step more).
  it.each([
    [4, 6],
    [4, 8],
    [5, 8],
    [5, 10],
    [6, 10],
    [6, 12],
    [7, 15],
  ])('a fillet of leg %s on %s mm turns by 1 to 3 degrees', (leg, thickness) => {
    const { least, most } = REFERENCE.shrinkage.filletAngleRange.value;
    expect(degrees(filletAngle(leg, thickness))).toBeGreaterThanOrEqual(least);
    expect(degrees(filletAngle(leg, thickness))).toBeLessThanOrEqual(most + 1e-9);
  });

  it('0.04 leg^1.3 / t^2 in inches: 0.25 in on 0.5 in -> 0.0264 rad (Blodgett) [M]', () => {
    // 0.25^1.3 = 0.16494; x 0.04 / 0.25 = 0.02639.
    expect(filletAngle(6.35, 12.7)).toBeCloseTo(0.02639, 5);
  });

  // Single V through the whole thickness, 3 to 5 degrees [P].
  it.each([6, 10, 15])('a V through %s mm turns by 3 to 5 degrees', (thickness) => {
    const area = thickness ** 2 * Math.tan(Math.PI / 6);
    const angle = degrees(buttAngle(buttTransverse(area, thickness), thickness));
    const { least, most } = REFERENCE.shrinkage.buttAngleRange.value;
    expect(angle).toBeGreaterThanOrEqual(least);
    expect(angle).toBeLessThanOrEqual(most);
  });
});

describe('a tack', () => {
  const ONE = { transverse: 1, longitudinal: 1, angular: 1 };
  const TACK: TackSize = {
    type: 'fillet',
    leg: 4,
    length: 30,
    tributary: 150,
    thicknessA: 8,
    thicknessB: 10,
  };

  it.each(['fillet', 'butt', 'corner', 'lap', 'edge'] as const)(
    'of a %s shrinks as its share of the seam that it stands for',
    (type) => {
      const tack = { ...TACK, type };
      const [whole, share] = [weldShrinkage(tack, ONE), tackShrinkage(tack, ONE)];
      expect(share.transverse).toBeCloseTo(whole.transverse / 5, 12);
      expect(share.angular).toBeCloseTo(whole.angular / 5, 12);
      expect(share.longitudinal).toBe(whole.longitudinal);
      expect(share.transverse).toBeGreaterThan(0);
      expect(share.angular).toBeGreaterThan(0);
    },
  );

  it('never shrinks by more than the whole', () => {
    const tack = { ...TACK, tributary: 10 };
    expect(tackShrinkage(tack, ONE)).toEqual(weldShrinkage(tack, ONE));
  });

  it('goes by the thinner part, whichever it is', () => {
    expect(tackShrinkage({ ...TACK, thicknessA: 10, thicknessB: 8 }, ONE)).toEqual(tackShrinkage(TACK, ONE));
    // One fillet of a pair: 1.02 x 4 / 8 / 2 over five.
    expect(tackShrinkage(TACK, ONE).transverse).toBeCloseTo(0.051, 9);
  });

  it('takes a factor on each of its three figures', () => {
    const [plain, changed] = [
      tackShrinkage(TACK, ONE),
      tackShrinkage(TACK, { transverse: 2, longitudinal: 3, angular: 0.5 }),
    ];
    expect(changed.transverse).toBeCloseTo(2 * plain.transverse, 12);
    expect(changed.longitudinal).toBeCloseTo(3 * plain.longitudinal, 12);
    expect(changed.angular).toBeCloseTo(plain.angular / 2, 12);
  });
});

// EN 1011-1: Q = k U I / (1000 v) [P, R]; speeds given in mm/min.
describe('heat input', () => {
  it.each([
    [24, 180, 300, 0.6912],
    [24, 200, 300, 0.768],
    [28, 250, 250, 1.344],
  ])('%s V, %s A, %s mm/min by gas metal arc -> %s kJ/mm', (volts, amperes, perMinute, heat) => {
    expect(heatInput('gasMetal', volts, amperes, perMinute / 60)).toBeCloseTo(heat, 9);
  });

  it('counts 1.0, 0.8 and 0.6 of the arc by process', () => {
    const of = (process: Parameters<typeof heatInput>[0]): number => heatInput(process, 25, 200, 5);
    expect(
      ['submerged', 'manual', 'gasMetal', 'fluxCored', 'tig', 'plasma'].map((p) => of(p as 'tig')),
    ).toEqual([1, 0.8, 0.8, 0.8, 0.6, 0.6]);
  });
});
