import { Graph } from '@dagrejs/graphlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { topologicalOrder, transitiveClosure, transitiveReduction } from '../../src/algorithms/digraph.js';
import { randomDigraph, walkReaches } from './random-graphs.js';

const seeds = fc.record({
  seed: fc.integer(),
  n: fc.integer({ min: 0, max: 12 }),
  density: fc.double({ min: 0, max: 1, noNaN: true }),
});

const graphOf = (...edges: [string, string][]): Graph<unknown, unknown, unknown> => {
  const graph = new Graph<unknown, unknown, unknown>();
  for (const [v, w] of edges) graph.setEdge(v, w);
  return graph;
};

describe('topologicalOrder', () => {
  it('takes the first name of those that are ready', () => {
    const graph = graphOf(['c', 'a'], ['b', 'a'], ['a', 'd']);
    graph.setNode('e');
    expect(topologicalOrder(graph)).toEqual({ ok: true, value: ['b', 'c', 'a', 'd', 'e'] });
  });

  it('does not depend on the order of insertion', () => {
    const edges: [string, string][] = [
      ['x', 'b'],
      ['y', 'a'],
      ['x', 'a'],
      ['a', 'z'],
    ];
    expect(topologicalOrder(graphOf(...edges.toReversed()))).toEqual(topologicalOrder(graphOf(...edges)));
  });

  it('names a cycle', () => {
    const found = topologicalOrder(graphOf(['a', 'b'], ['c', 'd'], ['d', 'b'], ['b', 'c'], ['c', 'e']));
    expect(found).toEqual({ ok: false, error: { kind: 'cycle', nodes: ['b', 'c', 'd'] } });
    expect(topologicalOrder(graphOf(['s', 's']))).toMatchObject({ error: { nodes: ['s'] } });
  });

  it('orders exactly the graphs without a cycle, and every cycle named is one', () => {
    fc.assert(
      fc.property(seeds, fc.boolean(), ({ seed, n, density }, back) => {
        const graph = randomDigraph(seed, n, back ? density / 6 : density, back);
        const cyclic = graph.nodes().some((node) => walkReaches(graph, node, node));
        const sorted = topologicalOrder(graph);
        expect(sorted.ok).toBe(!cyclic);
        if (sorted.ok) {
          expect([...sorted.value].sort()).toEqual(graph.nodes().sort());
          for (const { v, w } of graph.edges())
            expect(sorted.value.indexOf(v)).toBeLessThan(sorted.value.indexOf(w));
        } else {
          const { nodes } = sorted.error;
          nodes.forEach((node, i) => expect(graph.hasEdge(node, nodes[(i + 1) % nodes.length]!)).toBe(true));
          expect(new Set(nodes).size).toBe(nodes.length);
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe('transitiveClosure', () => {
  it('agrees with walking, beyond one word of bits', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 0, max: 45 }), (seed, n) => {
        const graph = randomDigraph(seed, n, 0.08);
        const closure = transitiveClosure(graph);
        if (!closure.ok) throw new Error('a cycle in an acyclic graph');
        for (const a of graph.nodes())
          for (const b of graph.nodes()) expect(closure.value.reaches(a, b)).toBe(walkReaches(graph, a, b));
        expect(closure.value.reaches('stranger', 'n3')).toBe(false);
      }),
      { numRuns: 60 },
    );
  });
});

describe('transitiveReduction', () => {
  it('removes the edge that a longer path implies', () => {
    const reduced = transitiveReduction(graphOf(['a', 'b'], ['b', 'c'], ['a', 'c']));
    expect(reduced.ok && reduced.value.edges()).toEqual([
      { v: 'a', w: 'b' },
      { v: 'b', w: 'c' },
    ]);
  });

  it('keeps the reachability with edges that are all needed, and the labels', () => {
    fc.assert(
      fc.property(seeds, ({ seed, n, density }) => {
        const graph = randomDigraph(seed, n, density);
        const found = transitiveReduction(graph);
        if (!found.ok) throw new Error('a cycle in an acyclic graph');
        const reduced = found.value;
        expect(reduced.nodes()).toEqual(graph.nodes());
        for (const a of graph.nodes())
          for (const b of graph.nodes()) expect(walkReaches(reduced, a, b)).toBe(walkReaches(graph, a, b));
        for (const edge of reduced.edges()) {
          expect(reduced.edge(edge)).toBe(graph.edge(edge));
          const label = reduced.edge(edge);
          reduced.removeEdge(edge);
          expect(walkReaches(reduced, edge.v, edge.w)).toBe(false);
          reduced.setEdge(edge.v, edge.w, label);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('refuses a cyclic graph', () => {
    expect(transitiveReduction(graphOf(['a', 'b'], ['b', 'a']))).toMatchObject({
      error: { nodes: ['a', 'b'] },
    });
  });
});
