import { longestCommon } from '../../algorithms/longest-common.js';
import { compareText } from '../../base/order.js';
import type { Plan } from '../../model/plan.js';
import type { Sides } from './sides.js';

/** A part that joins at another place of the order. */
export interface MovedPart {
  readonly part: string;
  /** Number of its stage in each plan. */
  readonly a: number;
  readonly b: number;
}

export interface OrderDifference {
  /** The fewest parts whose moves make one order of the other; the parts between them keep their order. */
  readonly moved: readonly MovedPart[];
  /** Parts that only one of the plans has. */
  readonly only: Sides<readonly string[]>;
}

/** How the orders of two plans differ: all parts that both have but those of a longest common subsequence have moved. */
export function orderDifference(a: Plan, b: Plan): OrderDifference {
  const [inA, inB] = [a, b].map(({ stages }) => stages.map(({ part }) => part)) as [string[], string[]];
  const kept = new Set(longestCommon(inA, inB));
  const moved = inA
    .filter((part) => inB.includes(part) && !kept.has(part))
    .sort(compareText)
    .map((part) => ({ part, a: inA.indexOf(part) + 1, b: inB.indexOf(part) + 1 }));
  const missing = (from: readonly string[], other: readonly string[]): string[] =>
    from.filter((part) => !other.includes(part)).sort(compareText);
  return { moved, only: { a: missing(inA, inB), b: missing(inB, inA) } };
}
