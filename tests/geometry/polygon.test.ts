import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Polygon } from '../../src/geometry/polygon.js';
import {
  clipPolygon,
  intersectPolygons,
  polygonArea,
  polygonCentroid,
  polygonContains,
  polygonEdges,
  projectPoint,
  shrinkPolygon,
} from '../../src/geometry/polygon.js';
import { axisZ, place } from '../../src/geometry/pose.js';
import type { Vec3 } from '../../src/geometry/vector.js';
import { along, dot } from '../../src/geometry/vector.js';
import { number, pose, RUNS } from './samples.js';

const UP: Vec3 = [0, 0, 1];
const DOWN: Vec3 = [0, 0, -1];

const rectangle = (x0: number, y0: number, x1: number, y1: number, z = 0): Polygon => [
  [x0, y0, z],
  [x1, y0, z],
  [x1, y1, z],
  [x0, y1, z],
];
const diamond: Polygon = [
  [6, 0, 0],
  [0, 6, 0],
  [-6, 0, 0],
  [0, -6, 0],
];

describe('polygons', () => {
  it('gives area and centroid of a triangle and a trapezium', () => {
    const triangle: Polygon = [
      [0, 0, 5],
      [30, 0, 5],
      [0, 60, 5],
    ];
    expect(polygonArea(triangle)).toBe(900);
    expect(polygonCentroid(triangle)).toEqual([10, 20, 5]);
    const trapezium: Polygon = [
      [0, 0, 0],
      [30, 0, 0],
      [10, 10, 0],
      [0, 10, 0],
    ];
    expect(polygonArea(trapezium)).toBe(200);
    expect(polygonCentroid(trapezium)[0]).toBeCloseTo(65 / 6, 12);
    expect(polygonCentroid(trapezium)[1]).toBeCloseTo(25 / 6, 12);
    expect(polygonArea([])).toBe(0);
  });

  it('intersects two rectangles, by hand', () => {
    const both = intersectPolygons(rectangle(0, 0, 10, 10), rectangle(4, -5, 20, 7), UP);
    expect(both).toHaveLength(4);
    expect(polygonArea(both)).toBe(42);
    [7, 3.5, 0].forEach((wanted, i) => expect(polygonCentroid(both)[i]).toBeCloseTo(wanted, 12));
  });

  it('cuts the corners of a square by a diamond, by hand', () => {
    const both = intersectPolygons(rectangle(-4, -4, 4, 4), diamond, UP);
    expect(both).toHaveLength(8);
    expect(polygonArea(both)).toBeCloseTo(64 - 4 * 2, 12);
  });

  it('stays on the plane and in the sense of the first, whichever way the other turns', () => {
    const over = [...rectangle(2, 2, 20, 20, 0.5)].reverse();
    const both = intersectPolygons(rectangle(0, 0, 10, 10), over, DOWN);
    expect(polygonArea(both)).toBe(64);
    expect(both.every((corner) => corner[2] === 0)).toBe(true);
  });

  it('nothing is left of polygons that share a side, a corner or nothing', () => {
    const square = rectangle(0, 0, 10, 10);
    for (const other of [rectangle(10, 0, 20, 10), rectangle(10, 10, 20, 20), rectangle(30, 0, 40, 10)])
      expect(intersectPolygons(square, other, UP)).toEqual([]);
    expect(intersectPolygons(square, [], UP)).toEqual([]);
  });

  it('keeps a polygon whole when a clipping line only touches it', () => {
    const square = rectangle(0, 0, 10, 10);
    expect(clipPolygon(square, [1, 0, 0], 10 - 1e-13)).toBe(square);
    expect(polygonArea(clipPolygon(square, [1, 0, 0], 2.5))).toBeCloseTo(25, 12);
  });

  it('shrinks, until nothing is left', () => {
    const long = rectangle(0, 0, 100, 10);
    expect(polygonArea(shrinkPolygon(long, UP, 2))).toBe(96 * 6);
    expect(shrinkPolygon(long, UP, 5)).toEqual([]);
    expect(shrinkPolygon(long, UP, 7)).toEqual([]);
    expect(shrinkPolygon(long, UP, 0)).toEqual(long);
  });

  it('tells inside from outside with its tolerance', () => {
    const square = rectangle(0, 0, 10, 10);
    expect(polygonContains(square, UP, [5, 10, 99], 0)).toBe(true);
    expect(polygonContains(square, UP, [5, 10.1, 0], 0)).toBe(false);
    expect(polygonContains(square, UP, [5, 10.1, 0], 0.1)).toBe(true);
    expect(polygonContains([], UP, [0, 0, 0], 1)).toBe(false);
  });

  it('gives sides with their outward directions', () => {
    const edges = polygonEdges(rectangle(0, 0, 10, 4), UP);
    expect(edges.map((edge) => edge.length)).toEqual([10, 4, 10, 4]);
    expect(edges.map((edge) => edge.outward.map((x) => x + 0))).toEqual([
      [0, -1, 0],
      [1, 0, 0],
      [0, 1, 0],
      [-1, 0, 0],
    ]);
  });

  it('projects a point onto a plane', () => {
    expect(projectPoint([0, 0, 1], 4, [1, 2, 9])).toEqual([1, 2, 4]);
  });

  it('intersecting is symmetric and independent of the frame', () => {
    const box = fc
      .tuple(number(-50, 50), number(-50, 50), number(1, 80), number(1, 80))
      .map(([x, y, w, h]) => rectangle(x, y, x + w, y + h));
    fc.assert(
      fc.property(box, box, pose(2000), (a, b, frame) => {
        const flat = polygonArea(intersectPolygons(a, b, UP));
        const width = Math.min(a[2]![0], b[2]![0]) - Math.max(a[0]![0], b[0]![0]);
        const height = Math.min(a[2]![1], b[2]![1]) - Math.max(a[0]![1], b[0]![1]);
        expect(flat).toBeCloseTo(Math.max(0, width) * Math.max(0, height), 3);
        expect(polygonArea(intersectPolygons(b, a, UP))).toBeCloseTo(flat, 3);
        const [placedA, placedB] = [a, b].map((p) => p.map((corner) => place(frame, corner)));
        const turned = polygonArea(intersectPolygons(placedA!, placedB!, axisZ(frame.turn)));
        expect(turned).toBeCloseTo(flat, 3);
      }),
      RUNS,
    );
  });

  it('a shrunk polygon is exactly the points that far inside', () => {
    fc.assert(
      fc.property(number(0.1, 3), number(-6, 6), number(-6, 6), (by, x, y) => {
        const depth = Math.min(
          ...polygonEdges(diamond, UP).map(({ from, outward }) => dot(outward, along(from, [x, y, 0], -1))),
        );
        fc.pre(Math.abs(depth - by) > 1e-6);
        expect(polygonContains(shrinkPolygon(diamond, UP, by), UP, [x, y, 0], 0)).toBe(depth > by);
      }),
      RUNS,
    );
  });
});
