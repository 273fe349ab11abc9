import type { Budget } from '../base/budget.js';
import { compareVectors } from '../base/order.js';
import { emptySet, has, withMember, without, type PartSet } from '../base/part-set.js';
import { compareCost, type Cost } from './cost.js';
import type { SetSystem } from './set-system.js';

/** A cover and whether it is proved to cost least, and to be the first of those that cost no more. */
export interface CheapestCover {
  readonly chosen: readonly number[];
  readonly cost: Cost;
  readonly proved: boolean;
}

/**
 * Of all covers of as few sets as the given one, of which no cover has fewer, the one in which the cheapest sets of all
 * elements cost least in all; of equal ones the first by the numbers of its sets. Branch and bound: no cover can cost less
 * than if every element had the cheapest of the sets that are not ruled out.
 */
export function cheapestCover(system: SetSystem, fewest: readonly number[], budget: Budget): CheapestCover {
  const search = new Search(system, budget, fewest);
  search.go(system.coverable, [], emptySet(system.sets.length));
  return { chosen: search.best, cost: search.cost, proved: !search.ended };
}

const inOrder = (sets: readonly number[]): readonly number[] => [...sets].sort((a, b) => a - b);

class Search {
  best: readonly number[];
  cost: Cost;
  ended = false;
  private readonly most: number;

  constructor(
    private readonly system: SetSystem,
    private readonly budget: Budget,
    start: readonly number[],
  ) {
    this.best = start;
    this.most = start.length;
    this.cost = this.costOf(start);
  }

  /** Looks at every cover of so few sets that has the chosen ones and none that is out. */
  go(left: PartSet, chosen: readonly number[], out: PartSet): void {
    if (this.ended || (this.ended = !this.budget.take())) return;
    const next = this.system.tightest(left, out);
    if (next === undefined) return this.take(inOrder(chosen));
    if (!this.canBeBetter(chosen, out)) return;
    let passed = out;
    for (const set of next.choices) {
      const rest = without(left, this.system.sets[set]!);
      if (chosen.length + 1 + this.system.apart(rest).length <= this.most)
        this.go(rest, [...chosen, set], passed);
      passed = withMember(passed, set);
    }
  }

  private take(chosen: readonly number[]): void {
    const cost = this.costOf(chosen);
    const compared = compareCost(cost, this.cost) || compareVectors(chosen, this.best);
    if (compared < 0) [this.best, this.cost] = [chosen, cost];
  }

  private canBeBetter(chosen: readonly number[], out: PartSet): boolean {
    const least = this.system.total((set) => !has(out, set));
    const compared = compareCost(least, this.cost);
    return compared < 0 || (compared === 0 && compareVectors(this.firstWith(chosen, out), this.best) < 0);
  }

  /** The first of all choices of so many sets that has the chosen ones and none that is out, whether a cover or not. */
  private firstWith(chosen: readonly number[], out: PartSet): readonly number[] {
    const others = this.system.sets.flatMap((_, set) => (has(out, set) || chosen.includes(set) ? [] : [set]));
    return inOrder([...chosen, ...others.slice(0, this.most - chosen.length)]);
  }

  private costOf(chosen: readonly number[]): Cost {
    return this.system.total((set) => chosen.includes(set));
  }
}
