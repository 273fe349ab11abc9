import type { SequentialOrdering } from '../../src/algorithms/sequential-ordering.js';
import { mayFollow, precedenceOf, type Precedence } from './precedence.js';

/** A sequential ordering instance as the models of the peers are written from it. */
export interface OrderingModel {
  readonly precedence: Precedence;
  /** Arcs that some order can use, with their costs. */
  readonly arcs: readonly { readonly from: number; readonly to: number; readonly cost: number }[];
}

export type OrderFound =
  | { readonly status: 'optimal'; readonly order: readonly number[]; readonly firstAfter: number }
  | { readonly status: 'infeasible' | 'out of time' };

/** Undefined when the precedences contradict one another. */
export function orderingModel({ cost }: SequentialOrdering): OrderingModel | undefined {
  const last = cost.length - 1;
  const items = cost.map((_, i) => i);
  const pairs = cost.flatMap((row, i) =>
    row.flatMap((entry, j) => (entry === -1 && i !== j ? [[j, i] as const] : [])),
  );
  const ends = items.flatMap((i) => [
    ...(i === 0 ? [] : [[0, i] as const]),
    ...(i === 0 || i === last ? [] : [[i, last] as const]),
  ]);
  const precedence = precedenceOf(cost.length, [...pairs, ...ends]);
  if (precedence === undefined) return undefined;
  const arcs = items.flatMap((from) =>
    items.filter((to) => mayFollow(precedence, from, to)).map((to) => ({ from, to, cost: cost[from]![to]! })),
  );
  return { precedence, arcs };
}
