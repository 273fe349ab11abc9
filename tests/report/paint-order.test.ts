import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromRollPitchYaw } from '../../src/geometry/pose.js';
import { block, rectangularHollowSection } from '../../src/geometry/shapes.js';
import { placeSolid, type Solid } from '../../src/geometry/solid.js';
import { cross, distance, dot, subtract, unit, type Vec3 } from '../../src/geometry/vector.js';
import { facetsToward } from '../../src/report/facets.js';
import { VIEWS } from '../../src/report/isometric.js';
import { paintOrder, type Facet } from '../../src/report/paint-order.js';
import { isHidden, sightRuns } from '../../src/report/sight.js';

const at = (solid: Solid, place: Vec3, turn: Vec3 = [0, 0, 0]): Solid =>
  placeSolid(solid, { at: place, turn: fromRollPitchYaw(...turn) });

/** Where the line of sight through a point meets a facet, as a distance toward the viewer; undefined beside it. */
function heightAt({ points, normal }: Facet, through: Vec3, toward: Vec3): number | undefined {
  const height = dot(normal, subtract(points[0]!, through)) / dot(normal, toward);
  const met = through.map((x, i) => x + toward[i]! * height) as unknown as Vec3;
  const inside = points.every((from, i) => {
    const to = points[(i + 1) % points.length]!;
    if (distance(from, to) < 1e-9) return true;
    return dot(cross(unit(subtract(to, from)), subtract(met, from)), normal) > 1e-6;
  });
  return inside ? height : undefined;
}

/** Of the facets that cover a point of the picture, the one painted last is the nearest. */
function lastIsNearest(painted: readonly Facet[], through: Vec3, toward: Vec3): boolean {
  const heights = painted.flatMap((facet) => heightAt(facet, through, toward) ?? []);
  return heights.length === 0 || heights.at(-1)! > Math.max(...heights) - 1e-6;
}

const areaOf = ({ points }: Facet): number =>
  points.slice(1, -1).reduce((sum, point, i) => {
    const product = cross(subtract(point, points[0]!), subtract(points[i + 2]!, points[0]!));
    return sum + Math.hypot(...product) / 2;
  }, 0);

describe('paintOrder', () => {
  const small = fc.integer({ min: -60, max: 60 });
  const boxes = fc.array(
    fc.record({
      size: fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: 5, max: 80 }))),
      place: fc.tuple(small, small, small),
      turn: fc.tuple(small, small, small),
    }),
    { minLength: 1, maxLength: 5 },
  );

  it('paints what is nearest last, also where solids cross', () => {
    fc.assert(
      fc.property(
        boxes,
        fc.array(fc.tuple(small, small, small), { minLength: 20, maxLength: 20 }),
        (list, points) => {
          const solids = list.map(({ size, place, turn }) =>
            at(block(size[0]!, size[1]!, size[2]!), place, turn),
          );
          for (const { toward } of VIEWS) {
            const facets = solids.flatMap((solid, i) => facetsToward(solid, toward, i));
            const painted = paintOrder(facets);
            for (const point of points) expect(lastIsNearest(painted, point, toward)).toBe(true);
            const [before, after] = [facets, painted].map((all) =>
              all.reduce((sum, own) => sum + areaOf(own), 0),
            );
            expect(after! / before!).toBeCloseTo(1, 6);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('marks no cut as an edge', () => {
    const low = at(block(100, 100, 10), [0, 0, 5]);
    const tall = at(block(10, 10, 200), [0, 0, 110]);
    const { toward } = VIEWS[0]!;
    const facets = [tall, low].flatMap((solid, i) => facetsToward(solid, toward, i));
    const length = (all: readonly Facet[]): number =>
      all
        .flatMap(({ points, edges }) =>
          points.map((from, i) => (edges[i] === true ? distance(from, points[(i + 1) % points.length]!) : 0)),
        )
        .reduce((sum, own) => sum + own, 0);
    const painted = paintOrder(facets);
    expect(painted.length).toBeGreaterThan(facets.length);
    expect(length(painted)).toBeCloseTo(length(facets), 6);
  });
});

describe('facetsToward', () => {
  const { toward } = VIEWS[0]!;

  it('gives the three faces of a box that are seen', () => {
    const facets = facetsToward(block(10, 20, 30), toward, 4);
    expect(facets.map(({ normal }) => normal.map((x) => Math.round(x) + 0))).toEqual(
      expect.arrayContaining([
        [1, 0, 0],
        [0, -1, 0],
        [0, 0, 1],
      ]),
    );
    expect(facets).toHaveLength(3);
    expect(facets.every(({ part, edges }) => part === 4 && edges.every((edge) => edge))).toBe(true);
  });

  it('draws the end of a hollow section as a frame: its outline and its hole and nothing else', () => {
    const facets = facetsToward(rectangularHollowSection(100, 40, 60, 5), toward, 0).filter(
      ({ normal }) => normal[0] > 0.5,
    );
    const length = facets
      .flatMap(({ points, edges }) =>
        points.map((from, i) => (edges[i] === true ? distance(from, points[(i + 1) % points.length]!) : 0)),
      )
      .reduce((sum, own) => sum + own, 0);
    expect(length).toBeCloseTo(2 * (40 + 60) + 2 * (30 + 50), 6);
  });
});

describe('sight', () => {
  const wall = at(block(100, 10, 100), [0, -30, 50]);
  const { toward } = VIEWS[0]!;

  it('sees a point on the near face and not one behind', () => {
    expect(isHidden([0, -35, 50], toward, [wall])).toBe(false);
    expect(isHidden([0, -25, 50], toward, [wall])).toBe(true);
    expect(isHidden([0, -30, 100], toward, [wall])).toBe(false);
  });

  it('cuts a line where it goes out of sight', () => {
    const line = [
      [-10, 0, 0],
      [-10, 0, 200],
    ] as const;
    const runs = sightRuns(line[0], line[1], toward, [wall]);
    expect(runs.map(({ hidden }) => hidden)).toEqual([true, false]);
    // The top edge of the far face, 25 toward the viewer in y, hides what is less than 25 under the line of sight.
    const limit = 100 - (25 / Math.abs(toward[1])) * toward[2];
    expect(Math.abs(runs[0]!.to[2] - limit)).toBeLessThan(200 / 48);
    expect(runs.at(-1)!.to[2]).toBeCloseTo(200, 9);
  });
});
