import { describe, expect, it } from 'vitest';
import { linearTolerance } from '../../src/mechanics/iso-13920.js';

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
