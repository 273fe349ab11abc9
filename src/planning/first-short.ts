import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { familyOf, requiredReserve, type PartLoad } from '../rules/load-cases.js';
import type { Judge } from '../mechanics/equilibrium.js';
import { betweenReserve, pushesBeside } from '../rules/push-directions.js';

/**
 * Warm and cold solves differ in last bits; a quick yes of the search keeps this far from the limit, so that the cold
 * solves that are emitted say yes too.
 */
const QUICK_MARGIN = 1e-4;

/** What is not carried with the reserve that it asks for. */
export interface Fall {
  readonly load: string;
  readonly reserve: number;
  readonly required: number;
}

/** A fall as the numbers of a refusal. */
export const inReserves = ({ reserve, required }: Fall): Pick<Refusal, 'value' | 'limit' | 'unit'> => ({
  ...{ value: reserve, limit: required, unit: 'reserve' },
});

/** That a part falls while nobody holds it. */
export const fallsUnheld = (part: string, fall: Fall): Refusal => ({
  ...{ code: 'falls-unheld', subjects: [part, fall.load] },
  ...inReserves(fall),
});

/**
 * What of a system does not carry gravity, or which of the loads comes first that it does not carry, as often as it must;
 * the loads are those of the judge, in its order.
 */
export function fallOf(
  judge: Judge,
  loads: readonly PartLoad[],
  settings: Settings,
  gravity = settings.reserves.gravity,
): Fall | undefined {
  const wanted = gravity + QUICK_MARGIN;
  if (judge.leastGravity(wanted) < wanted) {
    const { reserve } = judge.gravity();
    if (reserve < wanted) return { load: 'gravity', reserve, required: gravity };
  }
  return firstShort(loads, settings, judge);
}

/** The first load whose reserve is too small, asking for as few reserves as will do. */
function firstShort(
  loads: readonly PartLoad[],
  settings: Settings,
  judge: Pick<Judge, 'disturbance' | 'leastDisturbance'>,
): Fall | undefined {
  const known = new Map<string, number>();
  const later: (() => Fall | undefined)[] = [];
  const short = ({ name }: PartLoad, index: number): Fall | undefined => {
    const required = requiredReserve(familyOf(name)!, settings);
    const wanted = required + QUICK_MARGIN;
    const least = judge.leastDisturbance(index, wanted);
    if (least >= wanted) {
      known.set(name, least);
      return undefined;
    }
    const { reserve } = judge.disturbance(index);
    known.set(name, reserve);
    return reserve < wanted ? { load: name, reserve, required } : undefined;
  };
  for (const [index, load] of loads.entries()) {
    const beside = pushesBeside(load.name);
    if (beside === undefined) {
      const found = short(load, index);
      if (found) return found;
      continue;
    }
    later.push(() => {
      const [p, q] = beside.map((name) => known.get(name) ?? 0) as [number, number];
      return betweenReserve(p, q) >= settings.reserves.disturbance + QUICK_MARGIN
        ? undefined
        : short(load, index);
    });
  }
  for (const ask of later) {
    const found = ask();
    if (found) return found;
  }
  return undefined;
}
