import { Graph } from '@dagrejs/graphlib';
import { compareText } from '../base/order.js';
import { emptySet, has, type PartSet } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';
import { Heap } from './heap.js';

/** Nodes each of which has an edge to the next, and the last to the first. */
export interface Cycle {
  readonly kind: 'cycle';
  readonly nodes: readonly string[];
}

/** Any directed graph of the graph library, whatever its labels. */
export type Digraph<NodeLabel = unknown, EdgeLabel = unknown> = Graph<unknown, NodeLabel, EdgeLabel>;

/** Nodes before their successors (Kahn 1962); of those that are ready, the first by name goes first. */
export function topologicalOrder<N, E>(graph: Digraph<N, E>): Result<readonly string[], Cycle> {
  const missing = new Map(graph.nodes().map((node) => [node, before(graph, node).length]));
  const ready = new Heap(compareText);
  for (const [node, count] of missing) if (count === 0) ready.push(node);
  const order: string[] = [];
  for (let node = ready.pop(); node !== undefined; node = ready.pop()) {
    order.push(node);
    missing.delete(node);
    for (const next of after(graph, node)) {
      const count = missing.get(next)! - 1;
      missing.set(next, count);
      if (count === 0) ready.push(next);
    }
  }
  return missing.size === 0 ? ok(order) : fail(cycleAmong(graph, missing));
}

/** Which nodes can be reached from which, by at least one edge. */
export interface Reachability {
  reaches(from: string, to: string): boolean;
}

/** Transitive closure of an acyclic graph, as bit sets. An unknown node reaches nothing and is not reached. */
export function transitiveClosure<N, E>(graph: Digraph<N, E>): Result<Reachability, Cycle> {
  const sorted = topologicalOrder(graph);
  if (!sorted.ok) return sorted;
  const order = sorted.value;
  const indexOf = new Map(order.map((node, index) => [node, index]));
  const reached = order.map(() => emptySet(order.length));
  for (let from = order.length - 1; from >= 0; from -= 1) {
    for (const next of after(graph, order[from]!)) addFollowers(reached, from, indexOf.get(next)!);
  }
  const reaches = (from: string, to: string): boolean => {
    const [i, j] = [indexOf.get(from), indexOf.get(to)];
    return i !== undefined && j !== undefined && has(reached[i]!, j);
  };
  return ok({ reaches });
}

function addFollowers(reached: readonly PartSet[], from: number, next: number): void {
  const set = reached[from]!;
  reached[next]!.forEach((word, i) => (set[i]! |= word));
  set[next >>> 5]! |= 1 << (next & 31);
}

/**
 * The least graph with the same reachability (Aho, Garey and Ullman 1972): for an acyclic graph it is unique
 * and consists of the edges that no longer path implies. Nodes, labels and the order of edges are kept; of
 * parallel edges the first stays.
 */
export function transitiveReduction<N, E>(graph: Digraph<N, E>): Result<Digraph<N, E>, Cycle> {
  const closure = transitiveClosure(graph);
  if (!closure.ok) return closure;
  const { reaches } = closure.value;
  const reduced: Digraph<N, E> = new Graph({ directed: true });
  for (const node of graph.nodes()) reduced.setNode(node, graph.node(node));
  for (const edge of graph.edges()) {
    if (reduced.hasEdge(edge.v, edge.w)) continue;
    if (after(graph, edge.v).some((middle) => reaches(middle, edge.w))) continue;
    reduced.setEdge(edge.v, edge.w, graph.edge(edge));
  }
  return ok(reduced);
}

const before = <N, E>(graph: Digraph<N, E>, node: string): string[] => graph.predecessors(node) ?? [];

const after = <N, E>(graph: Digraph<N, E>, node: string): string[] => graph.successors(node) ?? [];

/** Walks backwards among nodes that all have a predecessor among themselves, until one comes again. */
function cycleAmong<N, E>(graph: Digraph<N, E>, nodes: ReadonlyMap<string, number>): Cycle {
  const walked: string[] = [];
  let at = [...nodes.keys()].sort(compareText)[0]!;
  while (!walked.includes(at)) {
    walked.push(at);
    at = before(graph, at)
      .filter((node) => nodes.has(node))
      .sort(compareText)[0]!;
  }
  const cycle = walked.slice(walked.indexOf(at)).reverse();
  const first = cycle.indexOf([...cycle].sort(compareText)[0]!);
  return { kind: 'cycle', nodes: [...cycle.slice(first), ...cycle.slice(0, first)] };
}
