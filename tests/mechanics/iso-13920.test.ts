import { describe, expect, it } from 'vitest';
import { angularTolerance, linearTolerance, straightnessTolerance } from '../../src/mechanics/iso-13920.js';

// ISO 13920 table 1 as published; one value in each range of each class.
const LENGTHS = [30, 120, 400, 1000, 2000, 4000, 8000, 12_000, 16_000, 20_000, 20_001];
const TABLE = {
  A: [1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9],
  B: [1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16],
  C: [1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27],
  D: [1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40],
} as const;

describe('general tolerances of ISO 13920', () => {
  it.each(Object.entries(TABLE))('class %s', (name, values) => {
    expect(LENGTHS.map((length) => linearTolerance(name as keyof typeof TABLE, length))).toEqual(values);
  });

  it('a range ends with its limit', () => {
    expect([400, 400.1].map((length) => linearTolerance('B', length))).toEqual([2, 3]);
  });
});

// ISO 13920 table 2 as published: minutes of arc and mm/m for a shorter leg up to 400, up to 1000 and longer.
const ANGLES = {
  A: [20, 15, 10, 6, 4.5, 3],
  B: [45, 30, 20, 13, 9, 6],
  C: [60, 45, 30, 18, 13, 9],
  D: [90, 75, 60, 26, 22, 18],
} as const;

describe('general tolerances of angles', () => {
  it.each(Object.entries(ANGLES))('class %s', (name, values) => {
    const of = [400, 1000, 1000.1].map((leg) => angularTolerance(name as keyof typeof ANGLES, leg));
    const minutes = of.map(({ radians }) => (radians * 180 * 60) / Math.PI);
    const perMetre = of.map(({ perLength }) => perLength * 1000);
    [...minutes, ...perMetre].forEach((value, i) => expect(value).toBeCloseTo(values[i]!, 9));
  });

  it('says nearly the same twice', () => {
    for (const name of ['A', 'B', 'C', 'D'] as const)
      for (const leg of [100, 700, 3000]) {
        const { radians, perLength } = angularTolerance(name, leg);
        expect(Math.abs(Math.tan(radians) / perLength - 1)).toBeLessThan(0.04);
      }
  });
});

// ISO 13920 table 3: E and F as published, G and H from memory.
const FORMS = {
  E: [0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8],
  F: [1, 1.5, 3, 4.5, 6, 8, 10, 12, 14, 16],
  G: [1.5, 3, 5.5, 9, 11, 16, 20, 22, 25, 25],
  H: [2.5, 5, 9, 14, 18, 26, 32, 36, 40, 40],
} as const;

describe('general tolerances of straightness and flatness', () => {
  it.each(Object.entries(FORMS))('class %s', (name, values) => {
    expect(
      LENGTHS.slice(1).map((length) => straightnessTolerance(name as keyof typeof FORMS, length)),
    ).toEqual(values);
  });
});
