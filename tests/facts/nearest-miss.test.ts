import { describe, expect, it } from 'vitest';
import { isNearer } from '../../src/facts/nearest-miss.js';
import type { Refusal } from '../../src/model/verdict.js';

const far = (value: number): Refusal => ({
  code: 'reach-too-far',
  subjects: [],
  value,
  limit: 0,
  unit: 'mm',
});
const limit = (value: number): Refusal => ({
  code: 'joint-5-limit',
  subjects: [],
  value,
  limit: -125,
  unit: 'deg',
});
const jump: Refusal = { code: 'joint-4-jump', subjects: [], value: 1, unit: 'deg' };

describe('isNearer', () => {
  it('compares misses of one kind by their size', () => {
    expect(isNearer(far(10), far(11))).toBe(true);
    expect(isNearer(far(11), far(10))).toBe(false);
    expect(isNearer(limit(-126), limit(-130))).toBe(true);
    expect(isNearer(far(10), far(10 + 1e-12))).toBe(false);
  });

  it('takes a pose that only a limit forbids before one out of reach, and what has no number last', () => {
    expect(isNearer(limit(-140), far(1))).toBe(true);
    expect(isNearer(far(1), limit(-140))).toBe(false);
    expect(isNearer(far(500), jump)).toBe(true);
    expect(isNearer(jump, far(500))).toBe(false);
    expect(isNearer(jump, jump)).toBe(false);
    expect(isNearer(jump, undefined)).toBe(true);
  });
});
