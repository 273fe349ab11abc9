import { emptySet, has, withMember, type PartSet } from '../base/part-set.js';
import type { OrderMasks } from './abstract-facts.js';
import type { CandidateWay } from './abstract-ways.js';

/**
 * Parts that can be exchanged: swapping the two leaves every mask and every way as it was. Groups of at least two, by
 * number, each ascending.
 *
 * The exchange is a swap of two parts with all others where they are, and the relation is transitive: what swaps p and r
 * is the swap of p and q, of q and r, and of p and q again. So every permutation inside the groups leaves the weldment
 * as it was. The tacks of joints are not compared: every joint is tacked once, whatever the order, so that only the sum
 * counts, and that is the same for all orders. The part that a file wants first comes before all others by the masks,
 * so that it is exchanged with none; nor is a part that may not begin or that a soft wish about the order names. Two parts of a group that touch each other touch each other after the swap too.
 */
export function exchangeable(
  masks: OrderMasks,
  ways: readonly (readonly CandidateWay[])[],
  named: PartSet = emptySet(ways.length),
): readonly (readonly number[])[] {
  const groups: number[][] = [];
  const apart = (part: number): boolean =>
    has(named, part) || (masks.notFirst !== undefined && has(masks.notFirst, part));
  for (let part = 0; part < ways.length; part += 1) {
    const group = apart(part)
      ? undefined
      : groups.find(([first]) => !apart(first!) && alike(masks, ways, first!, part));
    if (group === undefined) groups.push([part]);
    else group.push(part);
  }
  return groups.filter(({ length }) => length > 1);
}

function alike(
  { before, touching }: OrderMasks,
  ways: readonly (readonly CandidateWay[])[],
  a: number,
  b: number,
): boolean {
  if (!sameWays(ways[a]!, ways[b]!) || !sameButSwapped(before[a]!, before[b]!, a, b)) return false;
  const [ta, tb] = [touching[a], touching[b]];
  if ((ta === undefined) !== (tb === undefined)) return false;
  if (ta !== undefined && !sameButSwapped(ta, tb!, a, b)) return false;
  const equally = (set: PartSet | undefined): boolean => set === undefined || has(set, a) === has(set, b);
  return before.every((set, part) => part === a || part === b || (equally(set) && equally(touching[part])));
}

const sameWays = (a: readonly CandidateWay[], b: readonly CandidateWay[]): boolean =>
  a.length === b.length &&
  a.every(
    (way, i) =>
      way.gripper === b[i]!.gripper &&
      way.regrips === b[i]!.regrips &&
      way.milliseconds === b[i]!.milliseconds &&
      way.penalty === b[i]!.penalty,
  );

/** Whether the set of `b` is that of `a` with the two swapped. */
const sameButSwapped = (setA: PartSet, setB: PartSet, a: number, b: number): boolean =>
  has(setA, b) === has(setB, a) &&
  has(setA, a) === has(setB, b) &&
  without(setA, a, b).every((word, i) => word === without(setB, a, b)[i]);

function without(set: PartSet, a: number, b: number): PartSet {
  const copy = set.slice();
  for (const part of [a, b]) copy[part >>> 5]! &= ~(1 << (part & 31));
  return copy;
}

/**
 * The masks with the parts of each group one after another, by number. Of the orders that are the same but for
 * exchanges in the groups, exactly one remains, and it costs what the others cost: so the least cost stays, and so does
 * whether there is any order. What is added is precedence, so that what may join still may join later.
 */
export function inOneOrder(masks: OrderMasks, groups: readonly (readonly number[])[]): OrderMasks {
  const before = [...masks.before];
  for (const group of groups)
    for (let i = 1; i < group.length; i += 1)
      before[group[i]!] = withMember(before[group[i]!]!, group[i - 1]!);
  return { ...masks, before };
}

/**
 * The masks with all that follows: what must be in place before one that must be in place before a part must be so too.
 *
 * @param order some legal order of all parts
 */
export function propagated(masks: OrderMasks, order: readonly number[]): OrderMasks {
  const { before } = masks;
  const all = before.map(() => emptySet(before.length));
  for (const part of order) {
    const set = before[part]!.slice();
    for (let other = 0; other < before.length; other += 1)
      if (has(before[part]!, other)) all[other]!.forEach((word, i) => (set[i]! |= word));
    all[part] = set;
  }
  return { ...masks, before: all };
}
