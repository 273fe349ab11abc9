import type { SequentialOrdering } from '../algorithms/sequential-ordering.js';
import type { Cost } from '../algorithms/cost.js';
import { fail, ok, type Result } from '../base/result.js';
import { showNames, showValue } from '../io/show.js';

/**
 * The cost of an order of the nodes of a `.sop` file, which are called by their numbers from 0, straight from the
 * matrix. Node 0, with which every order begins, may be left out.
 */
export function judgeSop(cost: SequentialOrdering['cost'], order: readonly string[]): Result<Cost, string> {
  const n = cost.length;
  const named = order[0] === '0' ? order : ['0', ...order];
  const nodes = named.map((name) =>
    /^(0|[1-9]\d{0,8})$/.test(name) && Number(name) < n ? Number(name) : -1,
  );
  const unknown = nodes.indexOf(-1);
  if (unknown >= 0) return fail(`there is no node ${showValue(named[unknown])}`);
  const placeOf = new Map(nodes.map((node, place) => [node, place]));
  if (placeOf.size < nodes.length) {
    const twice = nodes.find((node, place) => placeOf.get(node) !== place)!;
    return fail(`node ${twice} comes twice`);
  }
  if (nodes.length < n) {
    const missing = cost.flatMap((_, node) => (placeOf.has(node) ? [] : [String(node)]));
    return fail(`nodes never come: ${showNames(missing)}`);
  }
  if (nodes[n - 1] !== n - 1) return fail(`node ${n - 1} is not the last`);
  return early(cost, nodes) ?? ok([lengthOf(cost, nodes)]);
}

/** Where a node comes before one that must come before it. */
function early(
  cost: SequentialOrdering['cost'],
  nodes: readonly number[],
): Result<never, string> | undefined {
  for (let a = 0; a < nodes.length; a += 1) {
    for (let b = a + 1; b < nodes.length; b += 1) {
      if (cost[nodes[a]!]![nodes[b]!] === -1)
        return fail(`node ${nodes[a]} comes before node ${nodes[b]}, which must come before it`);
    }
  }
  return undefined;
}

const lengthOf = (cost: SequentialOrdering['cost'], nodes: readonly number[]): number =>
  nodes.slice(1).reduce((sum, node, i) => sum + cost[nodes[i]!]![node]!, 0);
