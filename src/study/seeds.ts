import { fail, ok, type Result } from '../base/result.js';
import { showValue } from '../io/show.js';

/** More seeds than this in one list are taken for a slip (our choice). */
const MOST_SEEDS = 10_000;

/** Seeds as `1-10` or `1,2,7-9`: whole numbers, each once, in the order of the list. */
export function readSeeds(text: string): Result<readonly number[], string> {
  const seeds = new Set<number>();
  for (const piece of text.split(',')) {
    const [, from, to = from] = /^\s*(\d{1,9})(?:\s*-\s*(\d{1,9}))?\s*$/.exec(piece) ?? [];
    if (from === undefined)
      return fail(`${showValue(piece)} is not a seed; write whole numbers and ranges, as 1-10 or 1,2,7-9`);
    const [first, last] = [Number(from), Number(to)];
    if (last < first) return fail(`${showValue(piece)} counts down; write ${last}-${first}`);
    if (last - first + 1 + seeds.size > MOST_SEEDS) return fail(`these are more than ${MOST_SEEDS} seeds`);
    for (let seed = first; seed <= last; seed += 1) seeds.add(seed);
  }
  return ok([...seeds]);
}
