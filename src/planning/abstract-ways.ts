import { compareCost, type Cost } from '../algorithms/cost.js';
import { compareText, snap } from '../base/order.js';
import type { ObjectiveTerm } from '../model/settings.js';
import type { AbstractWeldment } from '../model/weldment.js';
import type { Wish } from '../model/wish.js';
import { partsOfWish, weightOf } from '../rules/wish-kept.js';
import { isWayWish, keepsWay, partIds } from './abstract-facts.js';
import { inOrder } from './objective.js';

/** The gripper number of a way that needs no particular gripper and keeps what is on the arm. */
export const ANY_GRIPPER = -1;

/** A way of a part that can be in a best plan. */
export interface CandidateWay {
  /** Place in the sorted list of grippers, or ANY_GRIPPER. */
  readonly gripper: number;
  readonly regrips: number;
  readonly milliseconds: number;
  /** Weights of the soft wishes about the part's ways that it breaks. */
  readonly penalty: number;
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
 * changes more. A part without ways gets one without gripper, regrips and time. Of a part that no way is left to by the
 * wishes that are not soft all ways stay: no order of it is legal anyhow.
 */
export function wayTable(
  weldment: AbstractWeldment,
  objective: readonly ObjectiveTerm[],
  wishes: readonly Wish[] = weldment.wishes ?? [],
): WayTable {
  const names = new Set(weldment.parts.flatMap(({ ways }) => ways.map(({ gripper }) => gripper)));
  names.delete('');
  const grippers = [...names].sort(compareText);
  const number = new Map(grippers.map((name, i) => [name, i]));
  const compare = comparison(objective);
  const twoChanges = 2 * milliseconds(weldment.times.toolChange);
  const given = new Map(weldment.parts.map(({ id, ways }) => [id, ways]));
  const ways = partIds(weldment).map((id) => {
    const listed = given.get(id)!;
    const all = listed.length === 0 ? [{ gripper: '', regrips: 0, seconds: 0 }] : listed;
    const own = wishes.filter(isWayWish).filter((wish) => partsOfWish(wish)[0] === id);
    const legal = all.filter((way) => own.every((wish) => wish.soft || keepsWay(wish, way)));
    const candidates = (legal.length === 0 ? all : legal).map((way): CandidateWay => ({
      gripper: number.get(way.gripper) ?? ANY_GRIPPER,
      regrips: way.regrips,
      milliseconds: milliseconds(way.seconds),
      penalty: weightOf(own.filter((wish) => !keepsWay(wish, way))),
    }));
    return withoutReplaceable(bestPerGripper(candidates, compare), objective, twoChanges);
  });
  const best = ways.map((list) => list.reduce((a, b) => (compare(b, a) < 0 ? b : a)));
  return { grippers, ways, best, compare };
}

function withoutReplaceable(
  ways: readonly CandidateWay[],
  objective: readonly ObjectiveTerm[],
  twoChanges: number,
): readonly CandidateWay[] {
  const cost = ({ regrips, milliseconds: time, penalty }: CandidateWay, changes: number): Cost =>
    inOrder(objective, {
      regrips,
      'tool-changes': changes,
      distortion: 0,
      time: time + (changes > 0 ? twoChanges : 0),
      wishes: penalty,
    });
  // Of two that can stand in for each other, which only ways without a change between them can, the first remains.
  const replaces = (other: CandidateWay, way: CandidateWay): boolean => {
    if (other.gripper === ANY_GRIPPER) return compareCost(cost(other, 0), cost(way, 0)) <= 0;
    return compareCost(cost(other, 2), cost(way, 0)) <= 0;
  };
  return ways.filter((way) => !ways.some((other) => other !== way && replaces(other, way)));
}

/** By regrips, time and broken wishes, in the order in which the objective names these. */
function comparison(objective: readonly ObjectiveTerm[]): WayTable['compare'] {
  const cost = ({ regrips, milliseconds: time, penalty }: CandidateWay): Cost =>
    inOrder(objective, { regrips, 'tool-changes': 0, distortion: 0, time, wishes: penalty });
  return (a, b) => compareCost(cost(a), cost(b));
}

function bestPerGripper(all: readonly CandidateWay[], compare: WayTable['compare']): readonly CandidateWay[] {
  const best = new Map<number, CandidateWay>();
  for (const way of all) {
    const known = best.get(way.gripper);
    if (known === undefined || compare(way, known) < 0) best.set(way.gripper, way);
  }
  return [...best.values()].sort((a, b) => a.gripper - b.gripper);
}
