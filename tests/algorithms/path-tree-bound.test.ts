import { describe, expect, it } from 'vitest';
import { PathTreeBound } from '../../src/algorithms/path-tree-bound.js';
import { seededRandom } from '../../src/base/random.js';

/** Rounded distances between random points of a square. */
function randomDistances(points: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  const at = Array.from({ length: points }, () => [random() * 100, random() * 100] as const);
  return Float64Array.from(at.flatMap(([x, y]) => at.map(([u, v]) => Math.round(Math.hypot(x - u, y - v)))));
}

/** The shortest path over `left` that begins at `last`, by trying all. */
function shortestFrom(
  distances: Float64Array,
  points: number,
  last: number,
  left: readonly number[],
): number {
  if (left.length === 0) return 0;
  return Math.min(
    ...left.map(
      (next) =>
        distances[last * points + next]! +
        shortestFrom(
          distances,
          points,
          next,
          left.filter((other) => other !== next),
        ),
    ),
  );
}

describe('PathTreeBound', () => {
  it('is never above the shortest path, over all points and over some, from anywhere and from one', () => {
    for (let seed = 1; seed <= 40; seed += 1) {
      const points = 2 + (seed % 6);
      const distances = randomDistances(points, seed);
      const bound = new PathTreeBound(points, distances, 100);
      for (let mask = 1; mask < 1 << points; mask += 1) {
        const left = Uint8Array.from({ length: points }, (_, i) => (mask >> i) & 1);
        const members = [...left.keys()].filter((i) => left[i] === 1);
        const from = members.map((begin) =>
          shortestFrom(
            distances,
            points,
            begin,
            members.filter((other) => other !== begin),
          ),
        );
        const open = bound.openBegin(left);
        members.forEach((begin, i) => expect(bound.fromOne(open, begin)).toBeLessThanOrEqual(from[i]!));
        expect(bound.fromAnywhere(left)).toBeLessThanOrEqual(Math.min(...from));
      }
    }
  });

  it('is the shortest tree without prices, and rises with them', () => {
    // A star of three legs of 10 about a middle: the tree is 30, the shortest path 10 + 10 + 20.
    const distances = Float64Array.from([0, 10, 10, 10, 10, 0, 20, 20, 10, 20, 0, 20, 10, 20, 20, 0]);
    const all = new Uint8Array(4).fill(1);
    expect(new PathTreeBound(4, distances, 0).fromAnywhere(all)).toBe(30);
    expect(new PathTreeBound(4, distances, 200).fromAnywhere(all)).toBe(40);
  });

  it('has nothing left to travel with one point', () => {
    const bound = new PathTreeBound(1, new Float64Array(1), 10);
    expect(bound.fromAnywhere(new Uint8Array([1]))).toBe(0);
    expect(bound.fromOne(bound.openBegin(new Uint8Array([1])), 0)).toBe(0);
  });
});
