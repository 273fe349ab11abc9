import { describe, expect, it } from 'vitest';
import { dot, subtract, type Vec3 } from '../../../src/geometry/vector.js';
import { nearestLine, toLine } from '../../../src/browser/stage-view/camera/nearest-line.js';
import {
  axesOf,
  between,
  fitted,
  orbited,
  panned,
  STANDARD_VIEWS,
  zoomed,
  type View,
} from '../../../src/browser/stage-view/camera/view.js';
import { planeOf, roomOf } from '../../../src/browser/stage-view/moment/section-plane.js';

const view = ([azimuth, elevation]: readonly [number, number]): View => ({
  azimuth,
  elevation,
  target: [0, 0, 0],
  height: 100,
});
const near = (a: Vec3, b: Vec3): void => a.forEach((value, i) => expect(value).toBeCloseTo(b[i]!, 9));

describe('a view', () => {
  it('from the front has x to the right and z up; from above, y up', () => {
    const front = axesOf(view(STANDARD_VIEWS.front));
    near(front.right, [1, 0, 0]);
    near(front.up, [0, 0, 1]);
    near(front.toward, [0, -1, 0]);
    const top = axesOf(view(STANDARD_VIEWS.top));
    near(top.right, [1, 0, 0]);
    near(top.up, [0, 1, 0]);
  });

  it('never turns over the top', () => {
    expect(orbited(view(STANDARD_VIEWS.iso), 0, 9).elevation).toBe(Math.PI / 2);
  });

  it('zooms about the point that is pointed at', () => {
    const before = view(STANDARD_VIEWS.front);
    // 0.25 heights right of the middle, at height 100: x = 25.
    const after = zoomed(before, 2, 0.25, 0);
    expect(after.height).toBe(50);
    expect((25 - after.target[0]) / after.height).toBeCloseTo(0.25, 12);
  });

  it('pans by shares of its height', () => {
    near(panned(view(STANDARD_VIEWS.front), 0.5, 0.1).target, [50, 0, 10]);
  });

  it('fits all points, in the height or in the width', () => {
    const points: Vec3[] = [
      [0, 0, 0],
      [300, 0, 100],
    ];
    const wide = fitted(view(STANDARD_VIEWS.front), points, 1.5, 1);
    near(wide.target, [150, 0, 50]);
    expect(wide.height).toBeCloseTo(200, 9);
    expect(fitted(view(STANDARD_VIEWS.front), points, 4, 1).height).toBeCloseTo(100, 9);
  });

  it('goes the shorter way round to another', () => {
    const middle = between({ ...view([3, 0]) }, { ...view([-3, 0]), height: 400 }, 0.5);
    expect(Math.abs(middle.azimuth)).toBeCloseTo(Math.PI, 9);
    expect(middle.height).toBeCloseTo(200, 9);
  });
});

describe('pointing', () => {
  it('measures to the nearest point of a line', () => {
    expect(toLine([5, 3], [0, 0], [10, 0])).toEqual([3, 0.5]);
    expect(toLine([13, 4], [0, 0], [10, 0])).toEqual([5, 1]);
    expect(toLine([3, 4], [0, 0], [0, 0])).toEqual([5, 0]);
  });

  it('means the nearest line that is not covered', () => {
    const line = (what: string, y: number, depth: number) =>
      ({ what, from: [0, y], to: [10, y], depths: [depth, depth] }) as const;
    const lines = [line('far', 8, 1), line('near', 2, 1), line('covered', 0, 50)];
    expect(nearestLine([5, 0], lines, 9, 10)).toBe('near');
    expect(nearestLine([5, 30], lines, 9, 10)).toBeUndefined();
  });
});

describe('a section', () => {
  it('leaves out what lies beyond its plane, on the side that is asked for', () => {
    const room = roomOf([
      [0, 0, 0],
      [10, 20, 40],
    ])!;
    const [normal, offset] = planeOf({ axis: 'z', at: 0.25, flipped: false }, room);
    expect(dot(normal, [0, 0, 11])).toBeGreaterThan(offset);
    expect(dot(normal, [0, 0, 9])).toBeLessThan(offset);
    const [other, from] = planeOf({ axis: 'z', at: 0.25, flipped: true }, room);
    expect(dot(other, subtract([0, 0, 9], [0, 0, 0]))).toBeGreaterThan(from);
  });
});
