import { emptySet, has, members, type PartSet } from '../base/part-set.js';
import { fail, ok, type Result } from '../base/result.js';

/** A partial order of the nodes 0 .. n-1, transitively closed. */
export interface Precedence {
  /** All that must come before a node. */
  readonly before: readonly PartSet[];
  /** All that must come after it. */
  readonly after: readonly PartSet[];
  /** Of those before a node the ones that no other one of them implies (transitive reduction). */
  readonly direct: readonly Int32Array[];
}

/**
 * Closes a relation transitively.
 *
 * @param pairs for each node the nodes that must come before it; not changed
 * @returns the order, or a cycle: nodes each of which must come before the next, and the last before the first
 */
export function closePrecedence(pairs: readonly PartSet[]): Result<Precedence, readonly number[]> {
  const n = pairs.length;
  const before = pairs.map((set) => set.slice());
  for (let k = 0; k < n; k += 1) for (const set of before) if (has(set, k)) addAll(set, before[k]!);
  const stuck = before.findIndex((set, i) => has(set, i));
  if (stuck >= 0) return fail(shortestCycle(pairs, before));
  const after = before.map(() => emptySet(n));
  before.forEach((set, j) => {
    for (const i of members(set)) after[i]![j >>> 5]! |= 1 << (j & 31);
  });
  return ok({ before, after, direct: before.map((set) => notImplied(set, before)) });
}

function addAll(set: PartSet, more: PartSet): void {
  for (let word = 0; word < set.length; word += 1) set[word]! |= more[word]!;
}

function notImplied(set: PartSet, before: readonly PartSet[]): Int32Array {
  const implied = emptySet(before.length);
  for (const k of members(set)) addAll(implied, before[k]!);
  return Int32Array.from(members(set).filter((k) => !has(implied, k)));
}

/** Of the shortest cycles the one through the least node, beginning there. */
function shortestCycle(pairs: readonly PartSet[], before: readonly PartSet[]): readonly number[] {
  const cycles = before.flatMap((set, i) => (has(set, i) ? [cycleThrough(i, pairs)] : []));
  return cycles.reduce((best, cycle) => (cycle.length < best.length ? cycle : best));
}

/** Breadth first against the pairs; the node is known to lie on a cycle. */
function cycleThrough(start: number, pairs: readonly PartSet[]): number[] {
  const next = new Map<number, number>();
  const queue = [start];
  for (const node of queue) {
    for (const earlier of members(pairs[node]!)) {
      if (earlier === start) return walk(start, node, next);
      if (next.has(earlier)) continue;
      next.set(earlier, node);
      queue.push(earlier);
    }
  }
  return [start];
}

function walk(start: number, from: number, next: ReadonlyMap<number, number>): number[] {
  const cycle = [start];
  for (let at = from; at !== start; at = next.get(at)!) cycle.push(at);
  return cycle;
}
