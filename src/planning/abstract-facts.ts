import { compareText } from '../base/order.js';
import { emptySet, has, intersects, isSubset, setOf, withMember, type PartSet } from '../base/part-set.js';
import type { AbstractWeldment, Way } from '../model/weldment.js';
import type { GripWish, RegripsWish, Wish } from '../model/wish.js';
import { isGrip, partsOfWish } from '../rules/wish-kept.js';
import { wishedPair } from './order-wishes.js';

/** One thing in a weldment file that every order must respect. */
export type OrderFact =
  /** `part`, unless it is the first, must touch a part in place. */
  | { readonly kind: 'contact'; readonly part: string }
  | { readonly kind: 'first'; readonly part: string }
  | { readonly kind: 'needs'; readonly part: string; readonly after: string }
  | { readonly kind: 'blocking'; readonly part: string; readonly by: string }
  /** A wish that is not soft; its number among all wishes, and the first part that it names. */
  | { readonly kind: 'wish'; readonly part: string; readonly wish: Wish; readonly number: number };

/**
 * What lets a part join, as bit masks. A part that another one blocks must come before it, since every part joins
 * in the end; so `needs`, `blocking` and `first` are all precedence. What may join now may therefore join later
 * too: only the choice of the first part can lead into a dead end.
 */
export interface OrderMasks {
  /** Per part, all that must be in place before it. */
  readonly before: readonly PartSet[];
  /** Per part, those of which one must be in place unless it is the first; undefined: it may stand alone. */
  readonly touching: readonly (PartSet | undefined)[];
  /** Parts that may not begin; absent for none. */
  readonly notFirst?: PartSet | undefined;
}

/** The ids of the parts, sorted: the number of a part is its place in this list, whatever the file order. */
export const partIds = (weldment: AbstractWeldment): readonly string[] =>
  weldment.parts.map(({ id }) => id).sort(compareText);

/** Wishes that are about the ways of one part. */
export type WayWish = GripWish | RegripsWish;
export const isWayWish = (wish: Wish): wish is WayWish => 'grip' in wish || 'regrips' in wish;

/** Whether a part that comes in a way keeps a wish about its ways. */
export const keepsWay = (wish: WayWish, { gripper, regrips }: Pick<Way, 'gripper' | 'regrips'>): boolean =>
  ('grip' in wish ? isGrip(wish, { gripper: gripper === '' ? null : gripper }) : regrips <= wish.most) !==
  wish.never;

/** All facts of a weldment in a fixed order: contacts, the first part, needs, blocking, wishes that are not soft. */
export function orderFacts(
  weldment: AbstractWeldment,
  wishes: readonly Wish[] = weldment.wishes ?? [],
): readonly OrderFact[] {
  const { contacts, first, needs, blocking } = weldment;
  const byName = (a: readonly [string, string], b: readonly [string, string]): number =>
    compareText(a[0], b[0]) || compareText(a[1], b[1]);
  const after = needs.flatMap((row) => row.after.map((id) => [row.part, id] as const)).sort(byName);
  const by = blocking.flatMap((row) => row.by.map((id) => [row.part, id] as const)).sort(byName);
  return [
    ...(contacts === undefined ? [] : partIds(weldment).map((part) => ({ kind: 'contact' as const, part }))),
    ...(first === undefined ? [] : [{ kind: 'first' as const, part: first }]),
    ...after.map(([part, id]) => ({ kind: 'needs' as const, part, after: id })),
    ...by.map(([part, id]) => ({ kind: 'blocking' as const, part, by: id })),
    ...wishes.flatMap((wish, number) =>
      wish.soft ? [] : [{ kind: 'wish' as const, part: partsOfWish(wish)[0]!, wish, number }],
    ),
  ];
}

/** The masks that follow from some of the facts of a weldment. Facts that name an unknown part say nothing. */
export function orderMasks(weldment: AbstractWeldment, facts: readonly OrderFact[]): OrderMasks {
  const ids = partIds(weldment);
  const index = new Map(ids.map((id, i) => [id, i]));
  const before = ids.map(() => emptySet(ids.length));
  const touching = new Array<PartSet | undefined>(ids.length).fill(undefined);
  const precede = (earlier: number | undefined, later: number | undefined): void => {
    if (earlier !== undefined && later !== undefined) before[later] = withMember(before[later]!, earlier);
  };
  const begins = (part: number): void => {
    for (const other of index.values()) if (other !== part) precede(part, other);
  };
  let notFirst: PartSet | undefined;
  for (const fact of facts) {
    const part = index.get(fact.part);
    if (part === undefined) continue;
    if (fact.kind === 'wish') {
      const { wish } = fact;
      if ('before' in wish) {
        const [earlier, later] = wishedPair(wish);
        precede(index.get(earlier), index.get(later));
      } else if ('first' in wish && wish.never) notFirst = withMember(notFirst ?? emptySet(ids.length), part);
      else if ('first' in wish) begins(part);
      continue;
    }
    if (fact.kind === 'needs') precede(index.get(fact.after), part);
    else if (fact.kind === 'blocking') precede(part, index.get(fact.by));
    else if (fact.kind === 'contact') touching[part] = neighbours(weldment, index, fact.part);
    else begins(part);
  }
  // A part that no way is left to can never join: as one that must come before itself.
  for (const part of withoutWays(weldment, facts)) precede(index.get(part), index.get(part));
  return { before, touching, ...(notFirst && { notFirst }) };
}

/** Parts of which no way keeps every wish about their ways that is among the facts. */
function withoutWays({ parts }: AbstractWeldment, facts: readonly OrderFact[]): readonly string[] {
  return parts.flatMap(({ id, ways }) => {
    const own = facts.flatMap((fact) =>
      fact.kind === 'wish' && fact.part === id && isWayWish(fact.wish) ? [fact.wish] : [],
    );
    const given = ways.length === 0 ? [{ gripper: '', regrips: 0 }] : ways;
    return given.some((way) => own.every((wish) => keepsWay(wish, way))) ? [] : [id];
  });
}

function neighbours(
  { contacts }: AbstractWeldment,
  index: ReadonlyMap<string, number>,
  part: string,
): PartSet {
  const others = (contacts ?? []).flatMap(([a, b]) => (a === part ? [b] : b === part ? [a] : []));
  return setOf(
    index.size,
    others.flatMap((id) => index.get(id) ?? []),
  );
}

/** Whether a part may join the parts in place, of which there is at least one; a row that begins with their set will do. */
export function mayJoin({ before, touching }: OrderMasks, part: number, inPlace: PartSet): boolean {
  if (!isSubset(before[part]!, inPlace)) return false;
  const touched = touching[part];
  return touched === undefined || intersects(touched, inPlace);
}

/**
 * A legal order that begins with `first`, or undefined if there is none. Taking whatever may join decides it,
 * because no part that joins ever keeps another one out.
 */
export function orderFrom(masks: OrderMasks, first: number): readonly number[] | undefined {
  const parts = masks.before.length;
  if (masks.before[first]!.some((word) => word !== 0)) return undefined;
  if (masks.notFirst && has(masks.notFirst, first)) return undefined;
  const order = [first];
  let inPlace = setOf(parts, order);
  for (let grown = true; grown;) {
    grown = false;
    for (let part = 0; part < parts; part += 1) {
      if (has(inPlace, part) || !mayJoin(masks, part, inPlace)) continue;
      inPlace = withMember(inPlace, part);
      order.push(part);
      grown = true;
    }
  }
  return order.length === parts ? order : undefined;
}

/** Some legal order, or undefined if there is none. */
export function anyOrder(masks: OrderMasks): readonly number[] | undefined {
  if (masks.before.length === 0) return [];
  for (let first = 0; first < masks.before.length; first += 1) {
    const order = orderFrom(masks, first);
    if (order !== undefined) return order;
  }
  return undefined;
}
