import { compareCost, type Cost } from '../algorithms/cost.js';
import { compareText, snap } from '../base/order.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import { partIds } from './abstract-facts.js';
import { inOrder } from './objective.js';

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
 * Leaves out the ways that another way of the part can stand in for at no more cost. A way with the same gripper, or with
 * none, leaves all other parts as they are. Any other one adds at most two tool changes, to its gripper and back: so
 * where regrips count first, only ways with the fewest remain, and where time does, none that takes longer than two
 * changes more. A part without ways gets one without gripper, regrips and time.
 */
export function wayTable(weldment: AbstractWeldment, objective: readonly ObjectiveTerm[]): WayTable {
  const names = new Set(weldment.parts.flatMap(({ ways }) => ways.map(({ gripper }) => gripper)));
  names.delete('');
  const grippers = [...names].sort(compareText);
  const number = new Map(grippers.map((name, i) => [name, i]));
  const compare = comparison(objective);
  const twoChanges = 2 * milliseconds(weldment.times.toolChange);
  const given = new Map(weldment.parts.map(({ id, ways }) => [id, ways]));
  const ways = partIds(weldment).map((id) => {
    const all = given.get(id)!.map(({ gripper, regrips, seconds }) => ({
      gripper: number.get(gripper) ?? ANY_GRIPPER,
      regrips,
      milliseconds: milliseconds(seconds),
    }));
    if (all.length === 0) all.push({ gripper: ANY_GRIPPER, regrips: 0, milliseconds: 0 });
    return withoutReplaceable(bestPerGripper(all, compare), objective, twoChanges);
  });
  const best = ways.map((list) => list.reduce((a, b) => (compare(b, a) < 0 ? b : a)));
  return { grippers, ways, best, compare };
}

function withoutReplaceable(
  ways: readonly CandidateWay[],
  objective: readonly ObjectiveTerm[],
  twoChanges: number,
): readonly CandidateWay[] {
  const cost = ({ regrips, milliseconds: time }: CandidateWay, changes: number): Cost =>
    inOrder(objective, {
      regrips,
      'tool-changes': changes,
      distortion: 0,
      time: time + (changes > 0 ? twoChanges : 0),
    });
  // Of two that can stand in for each other, which only ways without a change between them can, the first remains.
  const replaces = (other: CandidateWay, way: CandidateWay): boolean => {
    if (other.gripper === ANY_GRIPPER) return compareCost(cost(other, 0), cost(way, 0)) <= 0;
    return compareCost(cost(other, 2), cost(way, 0)) <= 0;
  };
  return ways.filter((way) => !ways.some((other) => other !== way && replaces(other, way)));
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
