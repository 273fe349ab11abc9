import type { Network } from './disjunctive-network.js';
import { LEFT_FIRST, RIGHT_FIRST, UNDECIDED, type Selection } from './disjunctive-selection.js';
import type { SpanOrders } from './disjunctive-timing.js';

/** How urgent a span is that could come next on its resource; the lowest goes first, ties by number. */
export type DispatchRule = (selection: Selection, span: number) => number;

const headOf = ({ heads, network }: Selection, span: number): number => heads[network.first[span]!]!;
const tailOf = ({ tails, network }: Selection, span: number): number => tails[network.first[span]!]!;

/** Classic rules: most work remaining, latest start counted from the earliest, first come, shortest, longest. */
export const DISPATCH_RULES: readonly DispatchRule[] = [
  (selection, span) => -tailOf(selection, span),
  (selection, span) => headOf(selection, span) - tailOf(selection, span),
  (selection, span) => headOf(selection, span),
  (selection, span) => selection.network.length[span]!,
  (selection, span) => -selection.network.length[span]!,
];

/**
 * Decides every pair by one rule, active schedules only (Giffler and Thompson 1960): of the spans that still wait
 * for an order the one that could end first names the resource, and those of its spans that could begin before
 * that end compete. False at a dead end.
 */
export function dispatch(selection: Selection, rule: DispatchRule): boolean {
  const waiting = resourcesOfSpans(selection.network);
  for (;;) {
    const next = firstToEnd(selection, waiting);
    if (next === undefined) return true;
    const chosen = mostUrgent(selection, next.resource, next.end, rule);
    if (!putFirst(selection, next.resource, chosen)) return false;
  }
}

function resourcesOfSpans({ resources, first }: Network): Int32Array {
  const resourceOf = new Int32Array(first.length);
  resources.forEach(({ spans }, resource) => spans.forEach((span) => (resourceOf[span] = resource)));
  return resourceOf;
}

function firstToEnd(
  selection: Selection,
  resourceOf: Int32Array,
): { resource: number; end: number } | undefined {
  const { network, heads } = selection;
  let best: { resource: number; end: number } | undefined;
  for (let span = 0; span < resourceOf.length; span += 1) {
    const last = network.last[span]!;
    const end = heads[last]! + network.durations[last]!;
    if (best !== undefined && end >= best.end) continue;
    const resource = resourceOf[span]!;
    if (isOpen(selection, resource, network.resources[resource]!.spans.indexOf(span)))
      best = { resource, end };
  }
  return best;
}

function isOpen({ network, choice }: Selection, resource: number, place: number): boolean {
  const { spans, pairAt } = network.resources[resource]!;
  for (let other = 0; other < spans.length; other += 1)
    if (other !== place && choice[pairAt[place * spans.length + other]!] === UNDECIDED) return true;
  return false;
}

function mostUrgent(selection: Selection, resource: number, end: number, rule: DispatchRule): number {
  const { spans } = selection.network.resources[resource]!;
  let chosen = -1;
  let least = Infinity;
  spans.forEach((span, place) => {
    if (headOf(selection, span) > end || !isOpen(selection, resource, place)) return;
    const urgency = rule(selection, span);
    if (urgency < least) [chosen, least] = [place, urgency];
  });
  return chosen;
}

function putFirst(selection: Selection, resource: number, place: number): boolean {
  const { spans, pairAt } = selection.network.resources[resource]!;
  for (let other = 0; other < spans.length; other += 1) {
    const pair = pairAt[place * spans.length + other]!;
    if (other === place || selection.choice[pair] !== UNDECIDED) continue;
    if (!selection.choose(pair, place < other ? LEFT_FIRST : RIGHT_FIRST)) return false;
  }
  return true;
}

/** The orders of a selection with every pair decided. */
export function ordersOf({ network, choice }: Selection): SpanOrders {
  return network.resources.map(({ spans, pairAt }) => {
    const count = spans.length;
    const order = new Int32Array(count);
    spans.forEach((span, place) => {
      let earlier = 0;
      for (let other = 0; other < count; other += 1) {
        if (other === place) continue;
        const side = choice[pairAt[place * count + other]!];
        if ((side === LEFT_FIRST) === other < place) earlier += 1;
      }
      order[earlier] = span;
    });
    return order;
  });
}

/** By pair: the side that orders of all spans imply. */
export function sidesOf({ left, right }: Network, orders: SpanOrders): Uint8Array {
  const place = new Map(orders.flatMap((order) => [...order].map((span, i): [number, number] => [span, i])));
  return Uint8Array.from(left, (span, pair) =>
    place.get(span)! < place.get(right[pair]!)! ? LEFT_FIRST : RIGHT_FIRST,
  );
}
