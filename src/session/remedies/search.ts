import { smallestRung } from '../../algorithms/smallest-rung.js';
import {
  COST_CLASSES,
  type Change,
  type CostClass,
  type RemedySearch,
  type TriedRemedy,
} from '../../model/tried-remedy.js';
import type { Plan } from '../../model/plan.js';
import type { Tried } from './attempt.js';
import type { Ladder } from './ladder.js';
import { PAIR, type Single } from './pairs.js';

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
  /** Steps that each try has, as they are told. */
  readonly steps: number;
  /** Asked before each try: why to stop now, if so. */
  readonly cut?: () => 'seconds' | 'stop' | undefined;
  readonly onProgress?: ((progress: RemedyProgress) => void) | undefined;
}

/** Tries a changed input. */
export type Attempt = (change: Change) => Tried;

/** Two changes at once, cheapest first, given those that were tried by themselves and did not help. */
export type Pairing = (failed: readonly Single[]) => readonly Single[];

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

/** What a plan costs with all that it has of sub-assemblies. */
const totalsOf = (plan: Plan): TriedRemedy['objective'] =>
  plan.kind === 'geometric' && plan.whole ? plan.whole.objective : plan.objective;

class Search {
  private readonly remedies: TriedRemedy[] = [];
  private readonly kinds = new Set<string>();
  private readonly failed: Single[] = [];
  private tries = 0;
  private pairs = 0;
  private open = 0;
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

  run(laddersOf: (cost: CostClass) => Iterable<Ladder>, pairing?: Pairing): RemedySearch {
    this.climbAll(laddersOf);
    if (this.remedies.length === 0 && pairing) this.tryPairs(pairing);
    const { tries, pairs, open, kinds, cutBy } = this;
    return {
      remedies: this.remedies.toSorted(byCost).slice(0, this.options.offered),
      ...{ tries, steps: this.options.steps, kinds: [...kinds] },
      ...(pairs > 0 && { pairs }),
      ...(open > 0 && { open }),
      ...(cutBy && { cutBy }),
    };
  }

  private climbAll(laddersOf: (cost: CostClass) => Iterable<Ladder>): void {
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
  }

  /** Where no change helped by itself: two at once, for a third of the tries more; enough is found with the first that help. */
  private tryPairs(pairing: Pairing): void {
    if (this.isCut()) return;
    this.end = this.classEnd = this.tries + this.third;
    for (const { cost, change } of pairing(this.failed)) {
      if (this.isOver() || this.remedies.length >= this.options.offered) return;
      this.pairs += 1;
      this.climb({ kind: PAIR, cost, changes: [change], monotone: false });
    }
  }

  private isCut(): boolean {
    return this.options.cut?.() !== undefined;
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
    const tried = changes.map((): Tried | undefined => undefined);
    const undecided = new Set<number>();
    const works = (rung: number): boolean => {
      const one = (tried[rung] = this.tried(kind, changes[rung]!));
      if (one?.plan === undefined && one?.open !== false) undecided.add(rung);
      return one?.plan !== undefined;
    };
    const rung = monotone ? smallestRung(changes.length, works) : changes.findIndex((_, i) => works(i));
    const [change, plan] = [changes[rung], tried[rung]?.plan];
    if (change === undefined || plan === undefined) {
      this.failed.push(...changes.flatMap((one, i) => (tried[i] ? [{ cost, change: one }] : [])));
      return;
    }
    const openBelow = [...undecided].filter((one) => one < rung).length;
    if (this.remedies.length === 0) this.end = Math.min(this.end, this.tries + this.third);
    const objective = totalsOf(plan).map(({ term, value }) => ({ term, value }));
    this.remedies.push({ kind, cost, ...change, objective, ...(openBelow > 0 && { openBelow }) });
  }

  private tried(kind: string, change: Change): Tried | undefined {
    if (this.isOver()) return undefined;
    this.options.onProgress?.({
      tries: this.tries,
      most: Math.max(this.options.tries, this.end),
      words: change.words,
    });
    this.tries += 1;
    this.kinds.add(kind);
    const tried = this.attempt(change);
    if (tried.plan === undefined && tried.open) this.open += 1;
    return tried;
  }
}

/**
 * Tries changes from the cheapest class on, and keeps of each ladder the smallest that gives a plan; two changes at once only
 * where none helps by itself.
 */
export const searchRemedies = (
  laddersOf: (cost: CostClass) => Iterable<Ladder>,
  attempt: Attempt,
  options: SearchOptions,
  pairing?: Pairing,
): RemedySearch => new Search(attempt, options).run(laddersOf, pairing);
