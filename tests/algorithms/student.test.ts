import { describe, expect, it } from 'vitest';
import { studentQuantile } from '../../src/algorithms/student.js';

describe('student quantile', () => {
  // The standard table of Student's t (any textbook of statistics), two-sided 95 % and 99 %.
  it.each([
    [0.975, 1, 12.706],
    [0.975, 2, 4.303],
    [0.975, 3, 3.182],
    [0.975, 5, 2.571],
    [0.975, 10, 2.228],
    [0.975, 30, 2.042],
    [0.975, 120, 1.98],
    [0.995, 1, 63.657],
    [0.995, 4, 4.604],
    [0.995, 20, 2.845],
  ])('of %d with %d degrees of freedom is %d', (chance, freedom, value) => {
    expect(studentQuantile(chance, freedom)).toBeCloseTo(value, 3);
  });

  it('comes near the normal distribution with many degrees of freedom', () => {
    expect(studentQuantile(0.975, 100_000)).toBeCloseTo(1.95996, 4);
  });

  it('meets its closed forms with one and two degrees of freedom', () => {
    for (const chance of [0.01, 0.2, 0.6, 0.9, 0.999]) {
      expect(studentQuantile(chance, 1)).toBeCloseTo(Math.tan(Math.PI * (chance - 0.5)), 8);
      const a = 2 * chance - 1;
      expect(studentQuantile(chance, 2)).toBeCloseTo(a * Math.sqrt(2 / (1 - a * a)), 8);
    }
  });

  it('is the same on both sides, and 0 in the middle', () => {
    expect(studentQuantile(0.025, 7)).toBeCloseTo(-studentQuantile(0.975, 7), 10);
    expect(studentQuantile(0.5, 7)).toBeCloseTo(0, 12);
  });

  it.each([
    [0, 3],
    [1, 3],
    [0.5, 0],
    [0.5, 2.5],
  ])('refuses a chance of %d with %d degrees of freedom', (chance, freedom) => {
    expect(() => studentQuantile(chance, freedom)).toThrow(RangeError);
  });
});
