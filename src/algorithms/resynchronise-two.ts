import type { Crossing, Merged } from './crossing-order.js';

/** Crossings of one direction in their order, which is the same at both ends in a transitive reduction. */
interface Direction {
  readonly places: readonly number[];
  /** For each, the last one with which it can be merged by itself, all others as they are. */
  readonly furthest: readonly number[];
  /** At least as many crossings are left of those from each one on. */
  readonly bound: readonly number[];
}

/**
 * The fewest crossings between two programs that imply the required ones and fit; undefined when not found out within
 * `limit` trials.
 *
 * Why the search is complete. In an acyclic order of two chains, a path from one chain to the other ends with a
 * crossing of that direction that starts no earlier than the path does and ends no later; so each required crossing is
 * implied by a single crossing of its own direction. A crossing from x to y implies exactly the required ones from x or
 * before to y or after, and those follow one another in the list. The weakest crossing that implies the required ones
 * from the k-th to the l-th starts where the l-th starts and ends where the k-th ends; it may stand for any other
 * that implies them, since weaker crossings make no circle and no path longer. So an answer is a cut of both lists into
 * runs. Runs by themselves leave the bounds (a run that does not fit fits in no longer one); which fit together is
 * searched depth first, the longest first.
 */
export function mergeTwoPrograms(
  required: readonly Crossing[],
  fits: (crossings: readonly Crossing[]) => boolean,
  limit: number,
): readonly Merged[] | undefined {
  const search = new TwoPrograms(required, fits, limit);
  return search.run();
}

class TwoPrograms {
  private readonly directions: readonly Direction[];
  private best: readonly Merged[];
  private trials = 0;

  constructor(
    private readonly required: readonly Crossing[],
    private readonly fits: (crossings: readonly Crossing[]) => boolean,
    private readonly limit: number,
  ) {
    this.best = required.map((crossing, i) => ({ ...crossing, carries: [i] }));
    this.directions = [0, 1].map((program) => this.directionFrom(program));
  }

  run(): readonly Merged[] | undefined {
    const done = this.cut(0, 0, []);
    return done ? this.best : undefined;
  }

  private directionFrom(program: number): Direction {
    const places = this.required
      .map((_, i) => i)
      .filter((i) => this.required[i]!.from.program === program)
      .sort((i, j) => this.required[i]!.from.event - this.required[j]!.from.event);
    const furthest = places.map((_, k) => {
      let l = k;
      while (l + 1 < places.length && this.fits([...this.required, this.merged(places, k, l + 1)])) l += 1;
      return l;
    });
    const bound = places.map(() => 0);
    // Longest first is best where every part of a run that fits does.
    for (let k = places.length - 1; k >= 0; k -= 1) bound[k] = 1 + (bound[furthest[k]! + 1] ?? 0);
    return { places, furthest, bound };
  }

  private merged(places: readonly number[], k: number, l: number): Merged {
    const { required } = this;
    return {
      from: required[places[l]!]!.from,
      to: required[places[k]!]!.to,
      carries: places.slice(k, l + 1),
    };
  }

  /** Cuts a direction from its k-th crossing on, then the next; false when the trials are used up. */
  private cut(d: number, k: number, chosen: readonly Merged[]): boolean {
    const direction = this.directions[d];
    if (direction === undefined) {
      if (chosen.length < this.best.length) this.best = chosen;
      return true;
    }
    const { places, furthest, bound } = direction;
    if (k === places.length) return this.cut(d + 1, 0, chosen);
    const later = this.directions[d + 1]?.bound[0] ?? 0;
    for (let l = furthest[k]!; l >= k; l -= 1) {
      const least = chosen.length + 1 + (bound[l + 1] ?? 0) + later;
      if (least >= this.best.length) continue;
      const next = [...chosen, this.merged(places, k, l)];
      if (l > k) {
        if (this.trials === this.limit) return false;
        this.trials += 1;
        if (!this.fits([...this.required, ...next])) continue;
      }
      if (!this.cut(d, l + 1, next)) return false;
    }
    return true;
  }
}
