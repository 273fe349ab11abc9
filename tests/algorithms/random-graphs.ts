import { Graph } from '@dagrejs/graphlib';
import { seededRandom } from '../../src/base/random.js';

/** A random graph over names that are not in topological order; acyclic unless `backEdges` is set. */
export function randomDigraph(seed: number, n: number, density: number, backEdges = false) {
  const random = seededRandom(seed);
  const names = Array.from({ length: n }, (_, i) => `n${(i * 7 + 3) % 97}`);
  const graph = new Graph<unknown, number, string>();
  names.forEach((name, i) => graph.setNode(name, i));
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      if (i !== j && (backEdges || i < j) && random() < density)
        graph.setEdge(names[i]!, names[j]!, `${i}-${j}`);
    }
  }
  return graph;
}

/** Reachability by at least one edge, by walking. */
export function walkReaches(graph: Graph<unknown, unknown, unknown>, from: string, to: string): boolean {
  const seen = new Set<string>();
  const stack = [...(graph.successors(from) ?? [])];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (node === to) return true;
    if (seen.has(node)) continue;
    seen.add(node);
    stack.push(...(graph.successors(node) ?? []));
  }
  return false;
}
