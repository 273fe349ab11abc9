import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { seededRandom } from '../../src/base/random.js';

/** A random sequential ordering instance whose inner nodes follow a hidden order; pairs need not be closed. */
export function randomOrdering(seed: number, n: number, density: number): SequentialOrdering {
  const random = seededRandom(seed);
  const rank = Array.from({ length: n }, (_, i) => (i === 0 ? -1 : i === n - 1 ? 2 : random()));
  const cost = rank.map((own, i) =>
    rank.map((other, j) => {
      const inner = i > 0 && j > 0 && i < n - 1 && j < n - 1;
      if (inner && other < own && random() < density) return -1;
      return i === j ? 0 : Math.floor(random() * 20);
    }),
  );
  return { cost };
}

/** Every legal order with its cost, by plain recursion. */
export function allOrders({ cost }: SequentialOrdering): { order: number[]; cost: number }[] {
  const n = cost.length;
  const found: { order: number[]; cost: number }[] = [];
  const walk = (order: number[], sum: number): void => {
    if (order.length === n) {
      found.push({ order, cost: sum });
      return;
    }
    for (let next = 1; next < n; next += 1) {
      if (order.includes(next)) continue;
      const missing = cost[next]!.some((entry, j) => entry === -1 && !order.includes(j));
      if (missing || (next === n - 1 && order.length < n - 1)) continue;
      walk([...order, next], sum + cost[order.at(-1)!]![next]!);
    }
  };
  walk([0], 0);
  return found;
}
