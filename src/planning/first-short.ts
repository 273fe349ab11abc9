import type { PartLoad } from '../rules/load-cases.js';

/**
 * Warm and cold solves differ in last bits; a quick yes of the search keeps this far from the limit, so that the cold
 * solves that are emitted say yes too.
 */
export const QUICK_MARGIN = 1e-4;

/** Answers the reserve of one load, by its place in the list. */
type ReserveOf = (index: number) => number;

const DIAGONAL = /^push (\w+) (45|135|225|315) deg$/;

/**
 * The first load whose reserve is below `required`, asking for as few reserves as will do. Loads that a system carries
 * form a convex set, so a push at 45 degrees between two pushes with reserves p and q is carried at least
 * sqrt 2 / (1/p + 1/q) times: where that is enough, its own reserve is not asked for.
 */
export function firstShort(
  loads: readonly PartLoad[],
  required: number,
  reserveOf: ReserveOf,
): { readonly index: number; readonly reserve: number } | undefined {
  const known = new Map<string, number>();
  const later: number[] = [];
  const short = (index: number): { index: number; reserve: number } | undefined => {
    const reserve = reserveOf(index);
    known.set(loads[index]!.name, reserve);
    return reserve < required ? { index, reserve } : undefined;
  };
  for (let index = 0; index < loads.length; index += 1) {
    if (DIAGONAL.test(loads[index]!.name)) later.push(index);
    else {
      const found = short(index);
      if (found) return found;
    }
  }
  for (const index of later) {
    const [, where, degrees] = DIAGONAL.exec(loads[index]!.name)!;
    const beside = [-45, 45].map(
      (turn) => known.get(`push ${where} ${(Number(degrees) + turn) % 360} deg`) ?? 0,
    );
    if (Math.SQRT2 / (1 / beside[0]! + 1 / beside[1]!) >= required) continue;
    const found = short(index);
    if (found) return found;
  }
  return undefined;
}
