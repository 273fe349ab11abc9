import { emptySet, has, members, setOf, size, union, without, type PartSet } from '../base/part-set.js';
import { addCost, compareCost, type Cost } from './cost.js';

/** A set that may be taken, and what each of its elements costs when it is the set that serves it. */
export interface CostedSet {
  /** Numbers of elements, each named once. */
  readonly members: readonly number[];
  /** Of each member, whole numbers, also below zero; all of one length. */
  readonly costs: readonly Cost[];
}

/** Elements and sets as tables of bits, for searches. */
export class SetSystem {
  readonly sets: readonly PartSet[];
  /** The sets that have an element, by element. */
  readonly having: readonly (readonly number[])[];
  /** The elements that share a set with an element, itself among them, by element. */
  readonly near: readonly PartSet[];
  /** Every element that some set has. */
  readonly coverable: PartSet;
  private readonly fewestNear: readonly number[];
  private readonly price: readonly ReadonlyMap<number, Cost>[];

  constructor(
    readonly elements: number,
    given: readonly CostedSet[],
    private readonly terms: number,
  ) {
    this.sets = given.map((set) => setOf(elements, set.members));
    this.price = given.map((set) => new Map(set.members.map((element, i) => [element, set.costs[i]!])));
    this.having = Array.from({ length: elements }, (_, element) =>
      this.sets.flatMap((set, number) => (has(set, element) ? [number] : [])),
    );
    this.near = this.having.map((numbers) =>
      numbers.reduce((all, number) => union(all, this.sets[number]!), emptySet(elements)),
    );
    const sizes = this.near.map(size);
    this.fewestNear = sizes.map((_, element) => element).sort((a, b) => sizes[a]! - sizes[b]! || a - b);
    this.coverable = this.sets.reduce<PartSet>(union, emptySet(elements));
  }

  /** The set among these that serves the element for least, the first of equals; undefined where none has it. */
  cheapest(element: number, among: (set: number) => boolean): number | undefined {
    let best: number | undefined;
    for (const set of this.having[element]!)
      if (
        among(set) &&
        (best === undefined || compareCost(this.costOf(set, element), this.costOf(best, element)) < 0)
      )
        best = set;
    return best;
  }

  /** What it costs to serve every element by the cheapest of these sets; elements that none of them has cost nothing. */
  total(among: (set: number) => boolean): Cost {
    let sum: Cost = new Array<number>(this.terms).fill(0);
    for (const element of members(this.coverable)) {
      const set = this.cheapest(element, among);
      if (set !== undefined) sum = addCost(sum, this.costOf(set, element));
    }
    return sum;
  }

  /**
   * The element that is left with the fewest sets to choose from, the first of equals; undefined where none is left. Every
   * cover has one of these sets.
   */
  tightest(
    left: PartSet,
    out: PartSet,
  ): { readonly element: number; readonly choices: readonly number[] } | undefined {
    let best: { element: number; choices: readonly number[] } | undefined;
    for (const element of members(left)) {
      const choices = this.having[element]!.filter((set) => !has(out, set));
      if (best === undefined || choices.length < best.choices.length) best = { element, choices };
    }
    return best;
  }

  /** Elements of which no two share a set, those that share sets with fewest first; as many sets are needed. */
  apart(left: PartSet): readonly number[] {
    const found: number[] = [];
    let rest = left;
    for (const element of this.fewestNear)
      if (has(rest, element)) {
        found.push(element);
        rest = without(rest, this.near[element]!);
      }
    return found;
  }

  private costOf(set: number, element: number): Cost {
    return this.price[set]!.get(element)!;
  }
}
