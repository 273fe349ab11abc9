import type { ObjectiveTerm } from '../../src/model/settings.js';
import type { AbstractWeldment, Way } from '../../src/model/weldment.js';
import { precedenceOf, type Precedence } from './precedence.js';

/** A way of a part; times in whole units. */
export interface Option {
  /** Number of a gripper; undefined when whatever is on the arm will do. */
  readonly gripper: number | undefined;
  readonly regrips: number;
  readonly cost: number;
}

/**
 * What the models of the peers are written from, read off the weldment without the help of our planner. All costs are
 * whole numbers, and their sum is least where the objective is lexicographically least.
 *
 * Two things that anybody who models this notices: the tacks take the same time in every order, so that they are left
 * out; and where regrips count first, the order limits no choice of ways, so that only ways with fewest are of use.
 */
export interface WeldmentModel {
  readonly ids: readonly string[];
  /** Names of the grippers; one without a name when no part asks for any. */
  readonly grippers: readonly string[];
  readonly precedence: Precedence;
  /** Per part those of which one must be in place unless it is the first; undefined: it may stand alone. */
  readonly touching: readonly (readonly number[] | undefined)[];
  /** taken[part][gripper]: the cheapest way while the gripper is on the arm, if there is any. */
  readonly taken: readonly (readonly (Option | undefined)[])[];
  /** Cost of one change of grippers. */
  readonly change: number;
}

/** How one part joins. */
export interface Choice {
  readonly part: string;
  readonly gripper: string | null;
  readonly regrips: number;
}

/** Undefined when the order relations contradict one another. */
export function weldmentModel(
  weldment: AbstractWeldment,
  objective: readonly ObjectiveTerm[],
): WeldmentModel | undefined {
  const ids = weldment.parts.map(({ id }) => id);
  const number = new Map(ids.map((id, i) => [id, i]));
  const precedence = precedenceOf(ids.length, [...relations(weldment, number), ...twins(weldment)]);
  if (precedence === undefined) return undefined;
  const used = usefulWays(weldment, objective);
  const grippers = [...new Set(used.flat().map(({ gripper }) => gripper))].filter((name) => name !== '');
  if (grippers.length === 0) grippers.push('');
  const { costOf, change } = weighted(weldment, objective, used);
  const taken = used.map((ways) => {
    const options = ways.map((way) => ({
      gripper: way.gripper === '' ? undefined : grippers.indexOf(way.gripper),
      regrips: way.regrips,
      cost: costOf(way),
    }));
    return grippers.map((_, g) => cheapest(options, g));
  });
  const { contacts } = weldment;
  const touching = ids.map((id, part) => {
    if (contacts === undefined) return undefined;
    const others = contacts.flatMap(([a, b]) => (a === id ? [b] : b === id ? [a] : []));
    return [...new Set(others.flatMap((other) => number.get(other) ?? []))].filter((other) => other !== part);
  });
  return { ids, grippers, precedence, touching, taken, change };
}

/** The plan that parts in this order, each with this gripper on the arm, make. */
export const choicesOf = (
  { ids, grippers, taken }: WeldmentModel,
  stages: readonly (readonly [part: number, gripper: number])[],
): readonly Choice[] =>
  stages.map(([part, mounted]) => {
    const { gripper, regrips } = taken[part]![mounted]!;
    return { part: ids[part]!, gripper: gripper === undefined ? null : grippers[gripper]!, regrips };
  });

/** One that keeps what is on the arm is taken when it is as cheap. */
function cheapest(options: readonly Option[], mounted: number): Option | undefined {
  return options
    .filter(({ gripper }) => gripper === undefined || gripper === mounted)
    .sort((a, b) => a.cost - b.cost || Number(a.gripper !== undefined) - Number(b.gripper !== undefined))[0];
}

function relations(
  { needs, blocking, first, parts }: AbstractWeldment,
  number: ReadonlyMap<string, number>,
): (readonly [number, number])[] {
  const named = [
    ...needs.flatMap(({ part, after }) => after.map((id) => [id, part] as const)),
    ...blocking.flatMap(({ part, by }) => by.map((id) => [part, id] as const)),
    ...(first === undefined ? [] : parts.flatMap(({ id }) => (id === first ? [] : [[first, id] as const]))),
  ];
  return named.flatMap(([a, b]) => {
    const [earlier, later] = [number.get(a), number.get(b)];
    return earlier === undefined || later === undefined ? [] : [[earlier, later] as const];
  });
}

/** Parts that can be exchanged in every plan come in the order of the file: neighbours in each such group. */
function twins(weldment: AbstractWeldment): (readonly [number, number])[] {
  const { parts, needs, blocking, contacts, first } = weldment;
  const facts = (swap: (id: string) => string): string =>
    JSON.stringify([
      parts.map(({ id, ways }) => [swap(id), ways.map((way) => JSON.stringify(way)).sort()].join()).sort(),
      needs.flatMap(({ part, after }) => after.map((id) => [swap(id), swap(part)].join())).sort(),
      blocking.flatMap(({ part, by }) => by.map((id) => [swap(part), swap(id)].join())).sort(),
      (contacts ?? []).map((pair) => pair.map(swap).sort().join()).sort(),
      first === undefined ? '' : swap(first),
    ]);
  const asGiven = facts((id) => id);
  return parts.flatMap(({ id: a }, i) => {
    const next = parts.findIndex(
      ({ id: b }, j) => j > i && facts((id) => (id === a ? b : id === b ? a : id)) === asGiven,
    );
    return next < 0 ? [] : [[i, next] as const];
  });
}

function usefulWays(
  { parts }: AbstractWeldment,
  objective: readonly ObjectiveTerm[],
): readonly (readonly Way[])[] {
  return parts.map(({ ways }) => {
    const all = ways.length > 0 ? ways : [{ gripper: '', regrips: 0, seconds: 0 }];
    if (objective[0] !== 'regrips') return all;
    const fewest = Math.min(...all.map(({ regrips }) => regrips));
    return all.filter(({ regrips }) => regrips === fewest);
  });
}

/** Times are taken in steps of 2^-10 ms, like our own, and then in their greatest common measure. */
const steps = (seconds: number): number => Math.round(seconds * 1000 * 1024);

const commonMeasure = (a: number, b: number): number => (b === 0 ? a : commonMeasure(b, a % b));

/**
 * One sum for the objective. A term weighs one more than all that the terms behind it can differ by between two plans,
 * in their weights: where two plans differ in a term by at least one, nothing behind it can make up for that.
 */
function weighted(
  { times }: AbstractWeldment,
  objective: readonly ObjectiveTerm[],
  ways: readonly (readonly Way[])[],
): { readonly costOf: (way: Way) => number; readonly change: number } {
  const lengths = ways.flat().map(({ seconds }) => steps(seconds));
  const unit = [...lengths, steps(times.toolChange)].reduce(commonMeasure, 0) || 1;
  const time = (seconds: number): number => steps(seconds) / unit;
  const spread = (value: (way: Way) => number): number =>
    ways.reduce((sum, list) => sum + Math.max(...list.map(value)) - Math.min(...list.map(value)), 0);
  const changes = Math.max(0, ways.length - 1);
  const ranges: Readonly<Record<ObjectiveTerm, number>> = {
    regrips: spread(({ regrips }) => regrips),
    'tool-changes': changes,
    distortion: 0,
    time: spread(({ seconds }) => time(seconds)) + changes * time(times.toolChange),
    wishes: 0,
  };
  const weight: Record<ObjectiveTerm, number> = {
    ...{ regrips: 0, 'tool-changes': 0, distortion: 0, time: 0, wishes: 0 },
  };
  let behind = 0;
  for (const term of [...objective].reverse()) {
    weight[term] = 1 + behind;
    behind += weight[term] * ranges[term];
  }
  if (behind > 1e9) throw new RangeError(`Weights of ${behind} are too large for the tolerances of HiGHS.`);
  return {
    costOf: ({ regrips, seconds }) => weight.regrips * regrips + weight.time * time(seconds),
    change: weight['tool-changes'] + weight.time * time(times.toolChange),
  };
}
