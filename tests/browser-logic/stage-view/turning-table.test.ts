import { describe, expect, it } from 'vitest';
import { place } from '../../../src/geometry/pose.js';
import { tableAngle, tableTurned } from '../../../src/browser/stage-view/moment/poses.js';

const TURNS = [
  { start: 0, end: 0, from: 0, to: 0, axis: [100, 0] as const },
  { start: 10, end: 14, from: 0, to: Math.PI / 2, axis: [100, 0] as const },
];

describe('the work table', () => {
  it('stands, turns evenly and stands', () => {
    expect([5, 10, 12, 14, 20].map((time) => tableAngle(TURNS, time))).toEqual([
      0,
      0,
      Math.PI / 4,
      Math.PI / 2,
      Math.PI / 2,
    ]);
    expect(tableAngle([], 5)).toBe(0);
  });

  it('takes what stands on it around its axis', () => {
    const [x, y, z] = place(tableTurned(TURNS, Math.PI / 2), [110, 0, 7]);
    expect([x, y, z].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([100, 10, 7]);
    expect(place(tableTurned([], 1), [1, 2, 3])).toEqual([1, 2, 3]);
  });
});
