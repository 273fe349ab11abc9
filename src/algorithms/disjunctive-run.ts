import { DISPATCH_RULES, dispatch, ordersOf, sidesOf } from './disjunctive-dispatch.js';
import { improveOrders } from './disjunctive-local-search.js';
import type { Network } from './disjunctive-network.js';
import type { Schedule, ScheduleOptions, ScheduleReport } from './disjunctive-problem.js';
import { branchOnPairs } from './disjunctive-branching.js';
import { LEFT_FIRST, RIGHT_FIRST, Selection, UNDECIDED, otherSide } from './disjunctive-selection.js';
import { Timing, type SpanOrders } from './disjunctive-timing.js';

/** One search for the least makespan: the passes share the root selection, the best schedule and the bound. */
export class DisjunctiveRun {
  private readonly selection: Selection;
  private readonly timing: Timing;
  private readonly improvements: { step: number; makespan: number }[] = [];
  private best: Schedule | undefined;
  private bestOrders: SpanOrders | undefined;
  private bound = 0;
  private nodes = 0;
  private localSearches = 0;

  constructor(
    private readonly network: Network,
    private readonly options: ScheduleOptions,
  ) {
    this.selection = new Selection(network);
    this.timing = new Timing(network);
  }

  /** What the arcs alone decide; false when no schedule is left. */
  propagateRoot(): boolean {
    const { selection } = this;
    if (!selection.tighten(Math.min(selection.upper, this.options.upper ?? Infinity))) {
      this.bound = Infinity;
      return false;
    }
    for (let i = 0; i < this.network.size; i += 1)
      this.bound = Math.max(this.bound, selection.heads[i]! + selection.tails[i]!);
    return true;
  }

  /** A first answer by each rule; none where all of them end dead. Costs no steps. */
  dispatch(): void {
    for (const rule of DISPATCH_RULES) {
      this.selection.push();
      if (dispatch(this.selection, rule)) this.offer(ordersOf(this.selection));
      this.selection.pop();
    }
  }

  /** Each time with other random numbers. */
  improveLocally(rounds: number): void {
    if (this.bestOrders === undefined) return;
    this.localSearches += 1;
    improveOrders(this.network, this.bestOrders, {
      rounds,
      seed: this.localSearches,
      bound: this.bound,
      mayMove: () => this.options.budget.take(),
      onBetter: (orders) => this.offer(orders),
    });
  }

  /** Bisects for the least makespan that propagation and probing cannot refute. */
  raiseBound(how: 'propagate' | 'probe'): void {
    let high = this.best?.makespan ?? this.selection.upper;
    while (this.bound < high && this.options.budget.exhaustedBy() === undefined) {
      const middle = Math.floor((this.bound + high) / 2);
      this.selection.push();
      const left = this.selection.tighten(middle) && (how === 'propagate' || this.probe());
      this.selection.pop();
      if (left) high = middle;
      else this.raise(middle + 1);
    }
  }

  /** Branch and bound until the proof or the end of the budget. */
  branch(): void {
    while (this.best === undefined || this.bound < this.best.makespan) {
      const upper = this.best === undefined ? this.selection.upper : this.best.makespan - 1;
      const said = !this.selection.tighten(upper) || !this.probe() ? 'exhausted' : this.search();
      if (said === 'exhausted') return this.raise(this.best?.makespan ?? Infinity);
      if (said === 'spent') return;
      this.improveLocally(1);
    }
  }

  private search(): 'exhausted' | 'better' | 'spent' {
    return branchOnPairs(this.selection, {
      mayBranch: () => {
        if (!this.options.budget.take()) return false;
        this.nodes += 1;
        return true;
      },
      preferred:
        this.bestOrders === undefined
          ? new Uint8Array(this.selection.choice.length)
          : sidesOf(this.network, this.bestOrders),
      onLeaf: () => this.offer(ordersOf(this.selection)),
    });
  }

  /** Decides pairs one of whose sides is refuted at once, until there are none; false when nothing is left. */
  private probe(): boolean {
    const { selection } = this;
    for (let changed = true; changed;) {
      changed = false;
      for (let pair = 0; pair < selection.choice.length; pair += 1) {
        for (const side of [LEFT_FIRST, RIGHT_FIRST]) {
          if (selection.choice[pair] !== UNDECIDED) break;
          if (!this.options.budget.take()) return true;
          selection.push();
          const left = selection.choose(pair, side);
          selection.pop();
          if (left) continue;
          if (!selection.choose(pair, otherSide(side))) return false;
          changed = true;
        }
      }
    }
    return true;
  }

  private offer(orders: SpanOrders): void {
    if (!this.timing.run(orders)) throw new RangeError('Orders that lead in a circle.');
    if (this.timing.makespan > this.selection.upper) return;
    if (this.best !== undefined && this.timing.makespan >= this.best.makespan) return;
    this.best = this.timing.schedule(orders);
    this.bestOrders = orders;
    this.improvements.push({ step: this.options.budget.steps, makespan: this.best.makespan });
    this.tell();
  }

  private raise(bound: number): void {
    this.bound = Math.max(this.bound, bound);
    this.tell();
  }

  private tell(): void {
    const { budget, onProgress } = this.options;
    onProgress?.({ steps: budget.steps, makespan: this.best?.makespan, bound: this.bound });
  }

  report(): ScheduleReport {
    const { best, bound, nodes, improvements } = this;
    const outcome =
      best !== undefined
        ? bound >= best.makespan
          ? 'optimal'
          : 'feasible'
        : bound === Infinity
          ? 'impossible'
          : 'none-found';
    return { outcome, ...(best && { best }), bound, nodes, improvements };
  }
}
