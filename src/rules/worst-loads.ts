import { BEYOND_DOUBT } from '../mechanics/equilibrium.js';
import { FACTOR_CAP } from '../mechanics/equilibrium-program.js';
import { familyOf, type LoadFamily, type PartLoad } from './load-cases.js';
import { betweenReserve, pushesBeside } from './push-directions.js';

/** The load of a family that is carried the fewest times; `judged` is the judgement of it. */
export interface WorstLoad<J> {
  readonly family: LoadFamily;
  readonly load: PartLoad;
  readonly judged: J;
}

/** How loads are judged, by their places in the list. */
export interface LoadJudge<J> {
  readonly judged: (index: number) => J;
  /** A lower bound of the reserve that is soon told; less than `wanted` only where no more can be found. */
  readonly least: (index: number, wanted?: number) => number;
}

/**
 * The worst load of each family, in the order of the loads; the first of equals, diagonal pushes last. A load is judged only
 * where its lower bound, or for a diagonal push those of its neighbours, leave open that it is the worst. `known` are reserves of the
 * same families elsewhere: what is surely no worse than they are is of no interest, and a family may be left out then.
 */
export function worstLoads<J extends { readonly reserve: number }>(
  loads: readonly PartLoad[],
  judge: LoadJudge<J>,
  known: ReadonlyMap<LoadFamily, number> = new Map(),
): readonly WorstLoad<J>[] {
  const reserves = new Map<string, number>();
  const families = new Map<LoadFamily, number[]>();
  for (const index of diagonalsLast(loads)) {
    const { name } = loads[index]!;
    const family = familyOf(name)!;
    families.set(family, [...(families.get(family) ?? []), index]);
    reserves.set(name, judge.least(index));
  }
  return [...families].flatMap(([family, indices]) => {
    const found = worstOf(loads, indices, judge, reserves, known.get(family) ?? Infinity);
    return found === undefined ? [] : [{ family, load: loads[found.index]!, judged: found.judged }];
  });
}

/** Places of the loads, those of diagonal pushes after all others. */
function diagonalsLast(loads: readonly PartLoad[]): readonly number[] {
  const diagonal = loads.map(({ name }) => pushesBeside(name) !== undefined);
  const places = loads.map((_, index) => index);
  return [...places.filter((index) => !diagonal[index]), ...places.filter((index) => diagonal[index])];
}

/** The worst of some loads, likeliest first; `reserves` are bounds by name, made sharp here where a load is judged. */
function worstOf<J extends { readonly reserve: number }>(
  loads: readonly PartLoad[],
  indices: readonly number[],
  { judged, least }: LoadJudge<J>,
  reserves: Map<string, number>,
  known: number,
): { readonly index: number; readonly judged: J } | undefined {
  const bound = (index: number): number => reserves.get(loads[index]!.name)!;
  const between = (index: number): number => {
    const beside = pushesBeside(loads[index]!.name) ?? [];
    const [p = 0, q = 0] = beside.map((name) => reserves.get(name) ?? 0);
    return betweenReserve(p, q);
  };
  let worst: { readonly index: number; readonly judged: J } | undefined;
  let limit = known;
  const look = (index: number): void => {
    const judgement = judged(index);
    reserves.set(loads[index]!.name, judgement.reserve);
    limit = Math.min(limit, judgement.reserve);
    const before = worst?.judged.reserve ?? Infinity;
    const earlier = worst !== undefined && indices.indexOf(index) < indices.indexOf(worst.index);
    if (judgement.reserve < before || (judgement.reserve === before && earlier))
      worst = { index, judged: judgement };
  };
  for (const index of [...indices].sort((p, q) => bound(p) - bound(q))) {
    const wanted = limit * (1 + BEYOND_DOUBT);
    const sure = limit < Infinity && (between(index) >= wanted || least(index, wanted) >= wanted);
    if (!sure) look(index);
  }
  // At the greatest reserve all are equal, and the first of them is it, though it may have been passed over.
  if ((worst?.judged.reserve ?? 0) >= FACTOR_CAP && worst!.index !== indices[0]) look(indices[0]!);
  return worst;
}

/** Of judgements of several states the worst of each family in each kind of state, the first of equals. */
export function worstOfEach<
  J extends { readonly state: string; readonly family: LoadFamily; readonly reserve: number },
>(judged: readonly J[]): readonly J[] {
  const worst = new Map<string, J>();
  for (const one of judged) {
    const key = `${one.state} ${one.family}`;
    const known = worst.get(key);
    if (known === undefined || one.reserve < known.reserve) worst.set(key, one);
  }
  return [...worst.values()];
}

/** The least reserve of each family in one kind of state, of judgements made so far. */
export function leastOfFamilies<
  J extends { readonly state: string; readonly family: LoadFamily; readonly reserve: number },
>(judged: readonly J[], state: string): ReadonlyMap<LoadFamily, number> {
  const least = new Map<LoadFamily, number>();
  for (const { family, reserve, state: own } of judged)
    if (own === state) least.set(family, Math.min(least.get(family) ?? Infinity, reserve));
  return least;
}
