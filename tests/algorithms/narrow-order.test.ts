import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { narrowOrder } from '../../src/algorithms/narrow-order.js';

type Edges = readonly (readonly [number, number])[];

const neighboursOf = (count: number, edges: Edges): number[][] =>
  Array.from({ length: count }, (_, node) =>
    Array.from({ length: count }, (_, other) => other).filter((other) =>
      edges.some(([a, b]) => a !== b && ((a === node && b === other) || (b === node && a === other))),
    ),
  );

/** How many entries a lower triangle has from the first in each row to the diagonal. */
const profile = (order: readonly number[], neighbours: readonly (readonly number[])[]): number => {
  const place = new Map(order.map((node, i) => [node, i]));
  return order.reduce((sum, node, i) => {
    const first = Math.min(i, ...neighbours[node]!.map((other) => place.get(other)!));
    return sum + i - first;
  }, 0);
};

describe('an order that is narrow', () => {
  it('of a chain told in any order has neighbours side by side', () => {
    const chain: Edges = [
      [3, 0],
      [0, 4],
      [4, 1],
      [1, 2],
    ];
    const neighbours = neighboursOf(5, chain);
    expect(profile(narrowOrder(neighbours), neighbours)).toBe(4);
  });

  it('of a star has one entry a ray, where the hub first would fill everything', () => {
    const star = neighboursOf(
      8,
      Array.from({ length: 7 }, (_, i) => [0, i + 1] as const),
    );
    expect(profile([0, 1, 2, 3, 4, 5, 6, 7], star)).toBe(28);
    expect(profile(narrowOrder(star), star)).toBe(7);
  });

  it('names every node once, whatever the graph, and the same each time', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 12 }),
        fc.array(fc.tuple(fc.nat(11), fc.nat(11)), { maxLength: 30 }),
        (count, edges) => {
          const neighbours = neighboursOf(count, edges);
          const order = narrowOrder(neighbours);
          expect([...order].sort((a, b) => a - b)).toEqual([...neighbours.keys()]);
          expect(narrowOrder(neighbours)).toEqual(order);
        },
      ),
      { numRuns: 200, seed: 63 },
    );
  });
});
