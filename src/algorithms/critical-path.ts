import { Graph } from '@dagrejs/graphlib';
import { fail, ok, type Result } from '../base/result.js';
import { topologicalOrder, type Cycle } from './digraph.js';

export interface Activity {
  readonly id: string;
  readonly duration: number;
}

/** `to` starts no earlier than `lag` after the start or the end of `from`. */
export interface Precedence {
  readonly from: string;
  readonly to: string;
  /** 0 when absent; may be negative. */
  readonly lag?: number;
  /** 'end' when absent. */
  readonly since?: 'start' | 'end';
}

export interface CriticalPath {
  /** When everything has ended. */
  readonly makespan: number;
  readonly earliestStart: ReadonlyMap<string, number>;
  /** The latest start that does not delay the end of everything. */
  readonly latestStart: ReadonlyMap<string, number>;
  /** Activities, first to last, of which each fixes the start of the next and the last fixes the makespan. */
  readonly chain: readonly string[];
}

export type CriticalPathError = Cycle | { readonly kind: 'unknown-activity'; readonly id: string };

/**
 * Longest paths through a network of activities (critical path method, Kelley and Walker 1959), in the unit of
 * the durations; nothing starts before 0. Ties in the chain go to the activity that comes first in topological
 * order.
 */
export function criticalPath(
  activities: readonly Activity[],
  precedences: readonly Precedence[],
): Result<CriticalPath, CriticalPathError> {
  const duration = new Map(activities.map((activity) => [activity.id, activity.duration]));
  const stranger = precedences.flatMap(({ from, to }) => [from, to]).find((id) => !duration.has(id));
  if (stranger !== undefined) return fail({ kind: 'unknown-activity', id: stranger });
  const graph = new Graph<unknown, unknown, unknown>();
  for (const { id } of activities) graph.setNode(id);
  for (const { from, to } of precedences) graph.setEdge(from, to);
  const sorted = topologicalOrder(graph);
  if (!sorted.ok) return sorted;

  const order = sorted.value;
  const links = linksOf(order, precedences, duration);
  const { earliestStart, fixedBy } = forward(order, links);
  const { makespan, last } = ending(order, earliestStart, duration);
  const latestStart = backward(order, links, (id) => makespan - duration.get(id)!);
  return ok({ makespan, earliestStart, latestStart, chain: chainTo(last, fixedBy) });
}

/** Least time from the start of `from` to the start of `to`. */
interface Link {
  readonly from: string;
  readonly to: string;
  readonly gap: number;
}

/** The links sorted by the place of `from` in the topological order. */
function linksOf(
  order: readonly string[],
  precedences: readonly Precedence[],
  duration: ReadonlyMap<string, number>,
): Link[] {
  const place = new Map(order.map((id, index) => [id, index]));
  return precedences
    .map(({ from, to, lag = 0, since = 'end' }) => ({
      from,
      to,
      gap: lag + (since === 'end' ? duration.get(from)! : 0),
    }))
    .sort((a, b) => place.get(a.from)! - place.get(b.from)!);
}

function forward(order: readonly string[], links: readonly Link[]) {
  const earliestStart = new Map(order.map((id) => [id, 0]));
  const fixedBy = new Map<string, string>();
  for (const { from, to, gap } of links) {
    const start = earliestStart.get(from)! + gap;
    if (start <= earliestStart.get(to)!) continue;
    earliestStart.set(to, start);
    fixedBy.set(to, from);
  }
  return { earliestStart, fixedBy };
}

function backward(
  order: readonly string[],
  links: readonly Link[],
  latestAlone: (id: string) => number,
): Map<string, number> {
  const latestStart = new Map(order.map((id) => [id, latestAlone(id)]));
  for (const { from, to, gap } of links.toReversed())
    latestStart.set(from, Math.min(latestStart.get(from)!, latestStart.get(to)! - gap));
  return latestStart;
}

function ending(
  order: readonly string[],
  earliestStart: ReadonlyMap<string, number>,
  duration: ReadonlyMap<string, number>,
): { makespan: number; last: string | undefined } {
  let makespan = 0;
  let last: string | undefined;
  for (const id of order) {
    const end = earliestStart.get(id)! + duration.get(id)!;
    if (last !== undefined && end <= makespan) continue;
    makespan = end;
    last = id;
  }
  return { makespan, last };
}

function chainTo(last: string | undefined, fixedBy: ReadonlyMap<string, string>): string[] {
  const chain: string[] = [];
  for (let id = last; id !== undefined; id = fixedBy.get(id)) chain.push(id);
  return chain.reverse();
}
