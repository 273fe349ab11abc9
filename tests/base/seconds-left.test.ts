import { describe, expect, it } from 'vitest';
import { secondsFromNow } from '../../src/base/seconds-left.js';

describe('secondsFromNow', () => {
  it('counts down to nothing', () => {
    let now = 100;
    const time = secondsFromNow(10, () => now);
    expect(time.left()).toBe(10);
    now = 104;
    expect(time.left()).toBe(6);
    now = 200;
    expect(time.left()).toBe(0);
  });

  it('gives a share of what is left, counted from then on', () => {
    let now = 0;
    const time = secondsFromNow(10, () => now);
    now = 2;
    const half = time.part(0.5);
    expect(half.left()).toBe(4);
    now = 3;
    expect([half.left(), time.left()]).toEqual([3, 7]);
  });

  it('is without end where nothing is given, or nobody counts', () => {
    expect(secondsFromNow(undefined, () => 1).left()).toBeUndefined();
    expect(secondsFromNow(10, undefined).part(0.5).left()).toBeUndefined();
  });
});
