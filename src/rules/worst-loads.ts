import { familyOf, type LoadFamily, type PartLoad } from './load-cases.js';
import { betweenReserve, pushesBeside } from './push-directions.js';

/** The load of a family that is carried the fewest times; `judged` is the judgement of it. */
export interface WorstLoad<J> {
  readonly family: LoadFamily;
  readonly load: PartLoad;
  readonly judged: J;
}

/**
 * The worst load of each family, in the order of the loads; the first of equals. A diagonal push is judged only where
 * its neighbours leave open that it is the worst.
 */
export function worstLoads<J extends { readonly reserve: number }>(
  loads: readonly PartLoad[],
  judge: (index: number) => J,
): readonly WorstLoad<J>[] {
  const reserves = new Map<string, number>();
  const worst = new Map<LoadFamily, WorstLoad<J>>();
  const look = (load: PartLoad, index: number): void => {
    const judged = judge(index);
    reserves.set(load.name, judged.reserve);
    const family = familyOf(load.name)!;
    const known = worst.get(family);
    if (known === undefined || judged.reserve < known.judged.reserve)
      worst.set(family, { family, load, judged });
  };
  const later: (() => void)[] = [];
  loads.forEach((load, index) => {
    const beside = pushesBeside(load.name);
    if (beside === undefined) look(load, index);
    else
      later.push(() => {
        const [p, q] = beside.map((name) => reserves.get(name) ?? 0) as [number, number];
        const least = worst.get(familyOf(load.name)!)?.judged.reserve ?? Infinity;
        if (betweenReserve(p, q) < least) look(load, index);
      });
  });
  for (const act of later) act();
  return [...worst.values()];
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
