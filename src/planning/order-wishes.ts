import { emptySet, has, setOf, withMember, type PartSet } from '../base/part-set.js';
import type { BeforeWish, FirstWish, Wish } from '../model/wish.js';

/** Beyond this many parts named in soft wishes about the order, what they cost at least is not worked out: 2^12 sets. */
const MOST_NAMED = 12;

/** What every order must respect, by number of part. */
export interface MustPrecede {
  /** Per part, all that must be in place before it, whatever follows from that included or not. */
  readonly before: readonly PartSet[];
  /** Parts that may not begin. */
  readonly notFirst?: PartSet | undefined;
}

interface Pair {
  readonly other: number;
  readonly weight: number;
}

type OrderWish = BeforeWish | FirstWish;

const isOrderWish = (wish: Wish): wish is OrderWish => 'before' in wish || 'first' in wish;

/** The two parts of a wish in the order in which they are wished. */
export const wishedPair = ({ before, never }: BeforeWish): readonly [string, string] =>
  never ? [before[1], before[0]] : before;

/** What soft wishes about the order of the parts cost: each when the part joins with which it is broken. Parts by number. */
export class OrderWishes {
  /** Parts that these wishes tell apart from others. */
  readonly named: PartSet;
  /** Per part, those that are wished before it. */
  readonly earlier: readonly PartSet[];
  /** Per part, those that it is wished before. */
  readonly later: readonly PartSet[];
  private readonly pairs: readonly (readonly Pair[])[];
  private readonly asFirst: readonly number[];
  private readonly bound: LeastBroken | undefined;

  /** @param wishes of which those that are soft and about the order count; `must` is for the bound alone */
  constructor(ids: readonly string[], wishes: readonly Wish[], must: MustPrecede) {
    const count = ids.length;
    const index = new Map(ids.map((id, i) => [id, i]));
    const known = (names: readonly string[]): number[] => names.flatMap((name) => index.get(name) ?? []);
    const soft = wishes.filter(isOrderWish).filter((wish) => wish.soft);
    const pairs = ids.map((): Pair[] => []);
    const asFirst = ids.map(() => 0);
    for (const wish of soft) {
      if ('before' in wish) {
        const [earlier, later] = known(wishedPair(wish));
        if (earlier !== undefined && later !== undefined)
          pairs[later]!.push({ other: earlier, weight: wish.weight });
        continue;
      }
      const part = index.get(wish.first);
      ids.forEach((_, other) => {
        if ((other === part) === wish.never) asFirst[other]! += wish.weight;
      });
    }
    this.pairs = pairs;
    this.asFirst = asFirst;
    this.earlier = pairs.map((list) =>
      setOf(
        count,
        list.map(({ other }) => other),
      ),
    );
    this.later = ids.map((_, part) =>
      setOf(
        count,
        pairs.flatMap((list, later) => (list.some(({ other }) => other === part) ? [later] : [])),
      ),
    );
    const named = known(soft.flatMap((wish) => ('before' in wish ? wish.before : [wish.first])));
    this.named = setOf(count, named);
    const distinct = [...new Set(named)].sort((a, b) => a - b);
    if (distinct.length > 0 && distinct.length <= MOST_NAMED)
      this.bound = new LeastBroken(distinct, this.pairs, asFirst, must);
  }

  /** Whether there is any such wish. */
  get any(): boolean {
    return this.named.some((word) => word !== 0);
  }

  /** What is broken when a part joins; a row that begins with the set of those in place will do. */
  cost(part: number, inPlace: PartSet, begun: boolean): number {
    let sum = begun ? 0 : this.asFirst[part]!;
    for (const { other, weight } of this.pairs[part]!) if (!has(inPlace, other)) sum += weight;
    return sum;
  }

  /** No order of the parts that are not in place breaks less. */
  least(inPlace: PartSet, begun: boolean): number {
    return this.bound?.after(inPlace, begun) ?? 0;
  }
}

/** The least that any order of the named parts breaks, over the sets of those that are in place. */
class LeastBroken {
  private readonly known: Float64Array;
  /** Per named part, which of the named ones must come before it, as bits. */
  private readonly must: readonly number[];
  /** What breaks when a part that no wish names begins; infinite where none may. */
  private readonly otherFirst: number;
  private readonly notFirst: number;

  constructor(
    private readonly named: readonly number[],
    private readonly pairs: readonly (readonly Pair[])[],
    private readonly asFirst: readonly number[],
    must: MustPrecede,
  ) {
    this.known = new Float64Array(2 << named.length).fill(-1);
    const before = closed(must.before);
    this.must = named.map((part) => this.bits(before[part]!));
    const others = before.flatMap((set, part) =>
      !named.includes(part) && set.every((word) => word === 0) && !(must.notFirst && has(must.notFirst, part))
        ? [asFirst[part]!]
        : [],
    );
    this.otherFirst = Math.min(Infinity, ...others);
    this.notFirst = must.notFirst ? this.bits(must.notFirst) : 0;
  }

  after(inPlace: PartSet, begun: boolean): number {
    const least = this.least(this.bits(inPlace), begun);
    // Where nothing named can go on, no order is legal at all, which others say.
    return least === Infinity ? 0 : least;
  }

  private bits(set: PartSet): number {
    let bits = 0;
    this.named.forEach((part, i) => {
      if (has(set, part)) bits |= 1 << i;
    });
    return bits;
  }

  private least(placed: number, begun: boolean): number {
    const { named, known, must, asFirst, pairs } = this;
    if (placed === (1 << named.length) - 1) return 0;
    const at = 2 * placed + (begun ? 1 : 0);
    if (known[at] !== -1) return known[at]!;
    let best = begun ? Infinity : this.otherFirst + this.least(placed, true);
    named.forEach((part, i) => {
      const bit = 1 << i;
      if ((placed & bit) !== 0 || (must[i]! & ~placed) !== 0) return;
      if (!begun && (this.notFirst & bit) !== 0) return;
      let cost = begun ? 0 : asFirst[part]!;
      for (const { other, weight } of pairs[part]!)
        if ((placed & (1 << named.indexOf(other))) === 0) cost += weight;
      best = Math.min(best, cost + this.least(placed | bit, true));
    });
    known[at] = best;
    return best;
  }
}

/** With all that follows: what must be before one that must be before a part. */
function closed(before: readonly PartSet[]): readonly PartSet[] {
  let sets = before.map((set) => set.slice());
  for (let grown = true; grown;) {
    grown = false;
    sets = sets.map((set) => {
      const next = set.slice();
      sets.forEach((other, part) => {
        if (has(set, part)) other.forEach((word, i) => (next[i]! |= word));
      });
      if (next.some((word, i) => word !== set[i])) grown = true;
      return next;
    });
  }
  return sets;
}

/** What hard wishes about the order add to what every order must respect. */
export function hardOrder(
  ids: readonly string[],
  wishes: readonly Wish[],
): MustPrecede & { readonly notFirst: PartSet } {
  const before = ids.map(() => emptySet(ids.length));
  let notFirst = emptySet(ids.length);
  const precede = (earlier: number, later: number): void => {
    if (earlier >= 0 && later >= 0) before[later] = withMember(before[later]!, earlier);
  };
  for (const wish of wishes.filter(isOrderWish)) {
    if (wish.soft) continue;
    if ('before' in wish) {
      const [earlier, later] = wishedPair(wish);
      precede(ids.indexOf(earlier), ids.indexOf(later));
    } else if (!wish.never)
      ids.forEach((id, part) => id !== wish.first && precede(ids.indexOf(wish.first), part));
    else if (ids.includes(wish.first)) notFirst = withMember(notFirst, ids.indexOf(wish.first));
  }
  return { before, notFirst };
}
