import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { connectedSets } from '../../src/algorithms/connected-sets.js';

type Graph = readonly (readonly number[])[];

const graphOf = (vertices: number, edges: readonly (readonly [number, number])[]): Graph =>
  Array.from({ length: vertices }, (_, v) =>
    Array.from({ length: vertices }, (_other, w) => w).filter(
      (w) => w !== v && edges.some((edge) => edge.includes(v) && edge.includes(w)),
    ),
  );

/** By looking at every set of vertices. */
function byListing(neighbours: Graph, most: number): string[] {
  const found: string[] = [];
  for (let mask = 1; mask < 1 << neighbours.length; mask += 1) {
    const members = neighbours.flatMap((_, v) => ((mask >> v) & 1 ? [v] : []));
    if (members.length < 2 || members.length > most) continue;
    const reached = [members[0]!];
    for (const v of reached)
      for (const w of neighbours[v]!) if (members.includes(w) && !reached.includes(w)) reached.push(w);
    if (reached.length === members.length) found.push(members.join());
  }
  return found.sort();
}

const anyGraph = fc
  .record({ vertices: fc.integer({ min: 1, max: 7 }), seed: fc.array(fc.nat(), { maxLength: 12 }) })
  .map(({ vertices, seed }) => {
    const pairs = Array.from({ length: vertices }, (_, a) => a).flatMap((a) =>
      Array.from({ length: a }, (_, b): [number, number] => [b, a]),
    );
    return graphOf(vertices, pairs.length === 0 ? [] : seed.map((n) => pairs[n % pairs.length]!));
  });

describe('connectedSets', () => {
  it('finds those of a path of four, small ones first', () => {
    const path = graphOf(4, [
      [0, 1],
      [1, 2],
      [2, 3],
    ]);
    const found = connectedSets({ neighbours: path, most: 3, limit: 100, allowed: () => true });
    expect(found).toEqual({
      sets: [
        [0, 1],
        [1, 2],
        [2, 3],
        [0, 1, 2],
        [1, 2, 3],
      ],
      cut: false,
    });
  });

  it('finds each connected set once, and no other', () => {
    fc.assert(
      fc.property(anyGraph, fc.integer({ min: 2, max: 7 }), (neighbours, most) => {
        const { sets, cut } = connectedSets({ neighbours, most, limit: 1e6, allowed: () => true });
        expect(cut).toBe(false);
        expect(sets.map((set) => set.join()).sort()).toEqual(byListing(neighbours, most));
      }),
    );
  });

  it('leaves out what is not allowed, with all that contains it', () => {
    fc.assert(
      fc.property(
        anyGraph,
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 7, maxLength: 7 }),
        (g, kg) => {
          const light = (members: readonly number[]): boolean =>
            members.reduce((sum, v) => sum + kg[v]!, 0) <= 12;
          const { sets } = connectedSets({ neighbours: g, most: 7, limit: 1e6, allowed: light });
          const wanted = byListing(g, 7).filter((text) => light(text.split(',').map(Number)));
          expect(sets.map((set) => set.join()).sort()).toEqual(wanted);
        },
      ),
    );
  });

  it('says when its limit ended it, and has small sets then', () => {
    const full = graphOf(
      6,
      Array.from({ length: 36 }, (_, i): [number, number] => [Math.floor(i / 6), i % 6]).filter(
        ([a, b]) => a < b,
      ),
    );
    const { sets, cut } = connectedSets({ neighbours: full, most: 6, limit: 10, allowed: () => true });
    expect(cut).toBe(true);
    expect(sets).toHaveLength(4);
    expect(sets.every((set) => set.length === 2)).toBe(true);
  });
});
