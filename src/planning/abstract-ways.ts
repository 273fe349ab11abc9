import { compareText, snap } from '../base/order.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { partIds } from './abstract-facts.js';

/** The gripper number of a way that needs no particular gripper and keeps what is on the arm. */
export const ANY_GRIPPER = -1;

/** A way of a part that can be in a best plan. */
export interface CandidateWay {
  /** Place in the sorted list of grippers, or ANY_GRIPPER. */
  readonly gripper: number;
  readonly regrips: number;
  readonly milliseconds: number;
}

/** The ways of a weldment, sorted out for the search. */
export interface WayTable {
  /** Names of all grippers, sorted. */
  readonly grippers: readonly string[];
  /** Per part, at most one way a gripper. */
  readonly ways: readonly (readonly CandidateWay[])[];
  /** Per part, the best of its ways if no gripper had to be changed. */
  readonly best: readonly CandidateWay[];
  readonly compare: (a: CandidateWay, b: CandidateWay) => number;
}

/** Times in steps of 2^-10 ms: their sums are exact in any order, and whole milliseconds stay whole. */
export const milliseconds = (seconds: number): number => snap(1000 * seconds, 2 ** -10);

/**
 * Keeps the best way a gripper, since ways with one gripper leave the same future; and only ways with fewest
 * regrips where those count first, since the order limits no choice of ways. A part without ways gets one without
 * gripper, regrips and time.
 */
export function wayTable(weldment: AbstractWeldment, objective: readonly ObjectiveTerm[]): WayTable {
  const names = new Set(weldment.parts.flatMap(({ ways }) => ways.map(({ gripper }) => gripper)));
  names.delete('');
  const grippers = [...names].sort(compareText);
  const number = new Map(grippers.map((name, i) => [name, i]));
  const compare = comparison(objective);
  const given = new Map(weldment.parts.map(({ id, ways }) => [id, ways]));
  const ways = partIds(weldment).map((id) => {
    const all = given.get(id)!.map(({ gripper, regrips, seconds }) => ({
      gripper: number.get(gripper) ?? ANY_GRIPPER,
      regrips,
      milliseconds: milliseconds(seconds),
    }));
    if (all.length === 0) all.push({ gripper: ANY_GRIPPER, regrips: 0, milliseconds: 0 });
    const fewest = objective[0] === 'regrips' ? Math.min(...all.map(({ regrips }) => regrips)) : Infinity;
    return bestPerGripper(
      all.filter(({ regrips }) => regrips <= fewest),
      compare,
    );
  });
  const best = ways.map((list) => list.reduce((a, b) => (compare(b, a) < 0 ? b : a)));
  return { grippers, ways, best, compare };
}

/** By regrips and time, in the order in which the objective names these two. */
function comparison(objective: readonly ObjectiveTerm[]): WayTable['compare'] {
  const regripsFirst = objective.indexOf('regrips') < objective.indexOf('time');
  return (a, b) => {
    const regrips = a.regrips - b.regrips;
    const time = a.milliseconds - b.milliseconds;
    return regripsFirst ? regrips || time : time || regrips;
  };
}

function bestPerGripper(all: readonly CandidateWay[], compare: WayTable['compare']): readonly CandidateWay[] {
  const best = new Map<number, CandidateWay>();
  for (const way of all) {
    const known = best.get(way.gripper);
    if (known === undefined || compare(way, known) < 0) best.set(way.gripper, way);
  }
  return [...best.values()].sort((a, b) => a.gripper - b.gripper);
}
