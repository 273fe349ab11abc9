import { smallestRung } from '../../algorithms/smallest-rung.js';
import type { Plan } from '../../model/plan.js';
import {
  COST_CLASSES,
  type Change,
  type CostClass,
  type RemedySearch,
  type TriedRemedy,
} from '../../model/tried-remedy.js';
import type { Ladder } from './ladder.js';

/** How far the search for remedies has got. */
export interface RemedyProgress {
  readonly tries: number;
  readonly most: number;
  readonly words: string;
}

export interface SearchOptions {
  /** Remedies offered at most, cheapest first; the search ends with the cost class in which they are found. */
  readonly offered: number;
  /** Changed inputs that are planned at most; a third of them for one cost class, and a third after one that helps. */
  readonly tries: number;
  /** Asked before each try: why to stop now, if so. */
  readonly cut?: () => 'seconds' | 'stop' | undefined;
  readonly onProgress?: ((progress: RemedyProgress) => void) | undefined;
}

/** Plans a changed input; undefined when that gives no plan that passes the rules. */
export type Attempt = (change: Change) => Plan | undefined;

const costOf = ({ cost }: TriedRemedy): number => COST_CLASSES.indexOf(cost);

/** Cheaper before dearer: by cost class, then size, then the objective of the plan, then as they were found. */
function byCost(p: TriedRemedy, q: TriedRemedy): number {
  return costOf(p) - costOf(q) || p.size - q.size || byObjective(p, q);
}

/** Term by term, a term that only one of them has counting as 0 in the other: one for broken soft wishes comes first. */
function byObjective({ objective: p }: TriedRemedy, { objective: q }: TriedRemedy): number {
  const terms = [...(p.length >= q.length ? p : q)].map(({ term }) => term);
  const valueIn = (plan: TriedRemedy['objective'], term: string): number =>
    plan.find((one) => one.term === term)?.value ?? 0;
  const differences = terms.map((term) => valueIn(p, term) - valueIn(q, term));
  return differences.find((difference) => difference !== 0) ?? 0;
}

class Search {
  private readonly remedies: TriedRemedy[] = [];
  private readonly kinds = new Set<string>();
  private tries = 0;
  /** Tries at which the cost class in hand, and the search as a whole once something helped, come to an end. */
  private classEnd = 0;
  private end: number;
  private cutBy: RemedySearch['cutBy'];

  constructor(
    private readonly attempt: Attempt,
    private readonly options: SearchOptions,
  ) {
    this.end = options.tries;
  }

  run(laddersOf: (cost: CostClass) => Iterable<Ladder>): RemedySearch {
    for (const cost of COST_CLASSES) {
      if (this.remedies.length >= this.options.offered) break;
      this.classEnd = this.tries + this.third;
      // Asked before the first ladder is made: some take long to make.
      if (this.isOver()) break;
      for (const ladder of laddersOf(cost)) {
        this.climb(ladder);
        if (this.isOver()) break;
      }
    }
    return {
      remedies: this.remedies.toSorted(byCost).slice(0, this.options.offered),
      ...{ tries: this.tries, kinds: [...this.kinds] },
      ...(this.cutBy && { cutBy: this.cutBy }),
    };
  }

  private get third(): number {
    return Math.ceil(this.options.tries / 3);
  }

  /** Whether nothing more is tried, of this cost class or at all; why is kept, an interruption before a limit. */
  private isOver(): boolean {
    const cut = this.options.cut?.();
    const tried = this.tries >= Math.min(this.end, this.classEnd);
    this.cutBy = cut ?? this.cutBy ?? (tried ? 'tries' : undefined);
    return cut !== undefined || tried;
  }

  /** Keeps the smallest change of a ladder that gives a plan. */
  private climb({ kind, cost, changes, monotone, otherwise }: Ladder): void {
    if (otherwise && this.remedies.some((remedy) => remedy.kind === kind)) return;
    const plans = changes.map((): Plan | undefined => undefined);
    const works = (rung: number): boolean => {
      plans[rung] = this.planOf(kind, changes[rung]!);
      return plans[rung] !== undefined;
    };
    const rung = monotone ? smallestRung(changes.length, works) : changes.findIndex((_, i) => works(i));
    const [change, plan] = [changes[rung], plans[rung]];
    if (change === undefined || plan === undefined) return;
    if (this.remedies.length === 0) this.end = Math.min(this.end, this.tries + this.third);
    const objective = plan.objective.map(({ term, value }) => ({ term, value }));
    this.remedies.push({ kind, cost, ...change, objective, proved: plan.proof.outcome === 'optimal' });
  }

  private planOf(kind: string, change: Change): Plan | undefined {
    if (this.isOver()) return undefined;
    this.options.onProgress?.({ tries: this.tries, most: this.options.tries, words: change.words });
    this.tries += 1;
    this.kinds.add(kind);
    return this.attempt(change);
  }
}

/** Tries changes from the cheapest class on, and keeps of each ladder the smallest that gives a plan. */
export const searchRemedies = (
  laddersOf: (cost: CostClass) => Iterable<Ladder>,
  attempt: Attempt,
  options: SearchOptions,
): RemedySearch => new Search(attempt, options).run(laddersOf);
