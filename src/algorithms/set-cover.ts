import type { Budget } from '../base/budget.js';
import { has } from '../base/part-set.js';
import { cheapestCover } from './cheapest-cover.js';
import type { Cost } from './cost.js';
import { fewestSets } from './fewest-sets.js';
import { SetSystem, type CostedSet } from './set-system.js';

export type { CostedSet } from './set-system.js';

/** Elements, numbered from 0, and the sets among which to choose. */
export interface SetCoverProblem {
  readonly elements: number;
  readonly sets: readonly CostedSet[];
  /** How many terms a cost has. */
  readonly terms: number;
}

/** The fewest sets that have every element that any set has; among these choices the one that costs least. */
export interface SetCover {
  /** Numbers of sets, in order. */
  readonly chosen: readonly number[];
  /** The chosen set that serves an element for least, the first of equals, by element; undefined where no set has it. */
  readonly servedBy: readonly (number | undefined)[];
  readonly cost: Cost;
  /** No cover has fewer sets. */
  readonly bound: number;
  /**
   * What proves that: `apart`: as many elements of which no two share a set; `exhausted`: every smaller choice was ruled
   * out; `budget`: nothing does, if the bound is less than what was chosen.
   */
  readonly by: 'apart' | 'exhausted' | 'budget';
  /** Elements of which no two share a set, the most that were found. */
  readonly apart: readonly number[];
  /** No other choice of as few sets costs less, or as much and is earlier by its numbers. */
  readonly costProved: boolean;
  readonly steps: number;
}

/**
 * Chooses the fewest sets, then those that cost least (compared lexicographically, summed over the elements, each served by
 * the cheapest chosen set), then the first by number. Exact where the budget suffices; where not, what was found with what
 * is proved of it. The same problem and steps give the same answer.
 */
export function coverBySets({ elements, sets, terms }: SetCoverProblem, budget: Budget): SetCover {
  const system = new SetSystem(elements, sets, terms);
  const fewest = fewestSets(system, budget);
  const least = fewest.bound === fewest.chosen.length;
  const cheapest = least ? cheapestCover(system, fewest.chosen, budget) : undefined;
  const chosen = cheapest?.chosen ?? fewest.chosen;
  const taken = (set: number): boolean => chosen.includes(set);
  return {
    chosen,
    servedBy: Array.from({ length: elements }, (_, element) =>
      has(system.coverable, element) ? system.cheapest(element, taken) : undefined,
    ),
    cost: cheapest?.cost ?? system.total(taken),
    bound: fewest.bound,
    by: !least ? 'budget' : fewest.apart.length === fewest.bound ? 'apart' : 'exhausted',
    apart: fewest.apart,
    costProved: cheapest?.proved ?? false,
    steps: budget.steps,
  };
}
