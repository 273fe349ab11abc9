import { describe, expect, it } from 'vitest';
import { sideText } from '../../src/report/direction-text.js';
import { stated } from '../../src/planning/document.js';
import { amount, counted, duration, listed, reserveText, tenthsOf } from '../../src/report/numbers.js';

describe('numbers in words', () => {
  it('groups thousands and rounds', () => {
    expect(amount(1456)).toBe('1,456');
    expect(amount(-1234567.891, 2)).toBe('-1,234,567.89');
    expect(amount(0.5)).toBe('1');
    expect(amount(12.3456, 3)).toBe('12.346');
    expect(amount(-0.0001, 2)).toBe('0');
  });

  it('counts', () => {
    expect([0, 1, 2].map((n) => counted(n, 'regrip'))).toEqual(['0 regrips', '1 regrip', '2 regrips']);
    expect(counted(2, 'patch', 'patches')).toBe('2 patches');
  });

  it('tells times exactly', () => {
    expect([0, 599, 600, 3130, 3129, 36000].map(duration)).toEqual([
      '0 s',
      '59.9 s',
      '1 min 0 s',
      '5 min 13 s',
      '5 min 12.9 s',
      '60 min 0 s',
    ]);
  });

  it('never shows a reserve larger than it is', () => {
    expect([1.4999, 1.5, 5.0477, 10, 0.0099].map(reserveText)).toEqual(['1.49', '1.5', '5.04', '10', '0']);
  });

  it('lists', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map((words) => listed(words))).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ]);
  });
});

describe('directions in words', () => {
  const half = Math.SQRT1_2;
  it.each([
    [[0, 0, 1], 'above'],
    [[0, 0, -1], 'below'],
    [[-1, 0, 0], '-x'],
    [[half, 0, half], '+x and above'],
    [[0, -half, -half], '-y and below'],
    [[0.6, 0, 0.8], '(0.6, 0, 0.8)'],
  ] as const)('%j is %s', (direction, text) => {
    expect(sideText(direction)).toBe(text);
  });
});

describe('tenths of a second', () => {
  it('are rounded up as the objective states them, whatever binary fractions make of whole milliseconds', () => {
    for (const milliseconds of [0, 1, 99, 100, 101, 250, 604_771, 663_362, 336_100])
      expect(tenthsOf(milliseconds / 1000)).toBe(stated('time', milliseconds));
    expect(tenthsOf(0.1 + 0.2)).toBe(3);
  });
});
