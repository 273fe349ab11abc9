import type { Budget } from '../base/budget.js';
import { emptySet, has, members, size, withMember, without, type PartSet } from '../base/part-set.js';
import type { SetSystem } from './set-system.js';

/** A cover and how few sets any cover has at least. */
export interface FewestSets {
  readonly chosen: readonly number[];
  readonly bound: number;
  /** Elements of which no two share a set: as many as were found. */
  readonly apart: readonly number[];
}

/**
 * The fewest sets that have every element that any set has. First sets by what they add, and elements apart, of which each
 * needs a set of its own; where these do not meet, branch and bound over the sets of the element with the fewest choices.
 * Where the budget ends, the best that was found with what is proved.
 */
export function fewestSets(system: SetSystem, budget: Budget): FewestSets {
  const apart = system.apart(system.coverable);
  const greedy = byWhatTheyAdd(system);
  if (greedy.length === apart.length) return { chosen: greedy, bound: apart.length, apart };
  const search = new Search(system, budget, greedy);
  search.go(system.coverable, [], emptySet(system.sets.length));
  const { best, ended } = search;
  if (ended) return { chosen: best, bound: apart.length, apart };
  const wider = apartOf(system, best.length, budget) ?? apart;
  return { chosen: best, bound: best.length, apart: wider };
}

function byWhatTheyAdd({ sets, coverable }: SetSystem): readonly number[] {
  const chosen: number[] = [];
  for (let left = coverable; size(left) > 0;) {
    const rests = sets.map((set) => without(left, set));
    const sizes = rests.map(size);
    const best = sizes.indexOf(Math.min(...sizes));
    chosen.push(best);
    left = rests[best]!;
  }
  return chosen.sort((a, b) => a - b);
}

class Search {
  best: readonly number[];
  ended = false;

  constructor(
    private readonly system: SetSystem,
    private readonly budget: Budget,
    start: readonly number[],
  ) {
    this.best = start;
  }

  /** Looks at every cover that has the chosen sets, none that is out, and fewer than the best one. */
  go(left: PartSet, chosen: readonly number[], out: PartSet): void {
    if (this.ended || (this.ended = !this.budget.take())) return;
    const next = this.system.tightest(left, out);
    if (next === undefined) {
      this.best = [...chosen].sort((a, b) => a - b);
      return;
    }
    let passed = out;
    for (const set of next.choices) {
      const rest = without(left, this.system.sets[set]!);
      if (chosen.length + 1 + this.needed(rest) < this.best.length) this.go(rest, [...chosen, set], passed);
      passed = withMember(passed, set);
    }
  }

  /** How many sets the elements that are left need at least. */
  private needed(left: PartSet): number {
    return this.system.apart(left).length;
  }
}

/** As many elements as asked for of which no two share a set, by looking at all; undefined where there are not, or the budget ends. */
function apartOf(system: SetSystem, many: number, budget: Budget): readonly number[] | undefined {
  const { elements, near } = system;
  const go = (open: PartSet, found: readonly number[]): readonly number[] | undefined => {
    if (found.length === many) return [...found].sort((a, b) => a - b);
    const [first, ...others] = members(open);
    if (first === undefined || found.length + 1 + others.length < many || !budget.take()) return undefined;
    // Whatever cannot be added to has this element or one that shares a set with it.
    let passed = emptySet(elements);
    for (const element of [first, ...others.filter((other) => has(near[first]!, other))]) {
      const answer = go(without(without(open, passed), near[element]!), [...found, element]);
      if (answer !== undefined) return answer;
      passed = withMember(passed, element);
    }
    return undefined;
  };
  return go(system.coverable, []);
}
