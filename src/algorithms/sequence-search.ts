import { snap } from '../base/order.js';

/** One item of a sequence and the way in which it is done. */
export interface SequenceStep {
  readonly item: number;
  readonly way: number;
}

/** Items to be put into an order, each done in one of its ways, so that the end is worth least. */
export interface SequenceProblem<S> {
  /** How many ways each item has, at least one. */
  readonly ways: readonly number[];
  /** What it costs to do each item once, in the unit of the budget. */
  readonly costs: readonly number[];
  readonly start: S;
  /** The state after one more item; the one before stays as it is. */
  extend(state: S, step: SequenceStep): S;
  /** Of a state on the way: what is least is taken first where there are too many to try. */
  score(state: S): number;
  /** Of a state with all items. */
  value(state: S): number;
}

export interface FoundSequence {
  readonly steps: readonly SequenceStep[];
  readonly value: number;
}

/**
 * How the best sequence was found: among all orders in all ways; among all orders in the first way, its ways then changed
 * one by one; or by greedy choice and exchange of pairs.
 */
export type SequenceMethod = 'every-order-and-way' | 'every-order' | 'exchange';

export interface SequenceReport {
  readonly best: FoundSequence;
  /** The worst complete sequence that was met. */
  readonly worst: FoundSequence;
  readonly method: SequenceMethod;
  /** Complete sequences that were valued. */
  readonly tried: number;
}

/** Values nearer to each other than this are equal. */
const GRAIN = 1e-4;

/** Sequences of some of the items in some of their ways: the sum over k of k! times the k-th elementary symmetric sum. */
function partialSequences(ways: readonly number[]): number {
  let sums = [1];
  for (const count of ways) sums = [...sums, 0].map((sum, k) => sum + (k > 0 ? sums[k - 1]! * count : 0));
  let factorial = 1;
  return sums.slice(1).reduce((total, sum, k) => total + (factorial *= k + 1) * sum, 0);
}

/** A search and what it has met and spent. */
class Search<S> {
  best: FoundSequence | undefined;
  worst: FoundSequence | undefined;
  tried = 0;
  private spent = 0;

  constructor(
    readonly problem: SequenceProblem<S>,
    private readonly most: number,
  ) {}

  get exhausted(): boolean {
    return this.spent >= this.most;
  }

  affords(cost: number): boolean {
    return this.spent + cost <= this.most;
  }

  extend(state: S, step: SequenceStep): S {
    this.spent += this.problem.costs[step.item]!;
    return this.problem.extend(state, step);
  }

  /** Values a complete sequence; whether it is the best so far. */
  meet(steps: readonly SequenceStep[], state: S): boolean {
    const found = { steps: [...steps], value: snap(this.problem.value(state), GRAIN) };
    this.tried += 1;
    if (this.worst === undefined || found.value > this.worst.value) this.worst = found;
    if (this.best !== undefined && found.value >= this.best.value) return false;
    this.best = found;
    return true;
  }

  /** Does a sequence from some state on, and values it. */
  run(steps: readonly SequenceStep[], from: number, state: S): boolean {
    let at = state;
    for (const step of steps.slice(from)) at = this.extend(at, step);
    return this.meet(steps, at);
  }
}

/** All orders, each item in each of the first `ways` of its ways. */
function everyOrder<S>(search: Search<S>, ways: readonly number[]): void {
  const steps: SequenceStep[] = [];
  const open = new Set(ways.keys());
  const go = (state: S): void => {
    if (open.size === 0) search.meet(steps, state);
    for (const item of [...open]) {
      open.delete(item);
      for (let way = 0; way < ways[item]!; way += 1) {
        steps.push({ item, way });
        go(search.extend(state, steps.at(-1)!));
        steps.pop();
      }
      open.add(item);
    }
  };
  go(search.problem.start);
}

/** Takes whatever scores least next. */
function greedy<S>(search: Search<S>): void {
  const { ways, start, score } = search.problem;
  const open = new Set(ways.keys());
  const steps: SequenceStep[] = [];
  let state = start;
  while (open.size > 0) {
    let best: { readonly step: SequenceStep; readonly state: S; readonly score: number } | undefined;
    for (const item of open)
      for (let way = 0; way < ways[item]!; way += 1) {
        const next = search.extend(state, { item, way });
        const scored = snap(score(next), GRAIN);
        if (best === undefined || scored < best.score)
          best = { step: { item, way }, state: next, score: scored };
      }
    steps.push(best!.step);
    state = best!.state;
    open.delete(best!.step.item);
  }
  search.meet(steps, state);
}

/** The best sequence with one pair exchanged or one way changed, together with the first place that differs. */
function* neighbours(
  steps: readonly SequenceStep[],
  ways: readonly number[],
): Generator<{ readonly from: number; readonly steps: readonly SequenceStep[] }> {
  for (const [i, { item, way }] of steps.entries())
    for (let other = 0; other < ways[item]!; other += 1)
      if (other !== way) yield { from: i, steps: steps.with(i, { item, way: other }) };
  for (let i = 0; i < steps.length; i += 1)
    for (let j = i + 1; j < steps.length; j += 1)
      yield { from: i, steps: steps.with(i, steps[j]!).with(j, steps[i]!) };
}

/** Changes the best sequence as long as a change makes it better and the budget lasts. */
function improve<S>(search: Search<S>): void {
  const { problem } = search;
  for (let changed = true; changed;) {
    changed = false;
    const { steps } = search.best!;
    const states = [problem.start];
    for (const step of steps.slice(0, -1)) states.push(search.extend(states.at(-1)!, step));
    for (const next of neighbours(steps, problem.ways)) {
      if (search.exhausted) return;
      changed = search.run(next.steps, next.from, states[next.from]!);
      if (changed) break;
    }
  }
}

/**
 * The sequence whose end is worth least, as far as the budget `most` allows: all of them, or all orders and then better
 * ways, or the best of `known`, a greedy one and what exchanges make of it. Never worse than the `known` ones, which are
 * tried first; of equal ones the first met. The same input gives the same answer.
 */
export function bestOrderAndWays<S>(
  problem: SequenceProblem<S>,
  known: readonly (readonly SequenceStep[])[],
  most: number,
): SequenceReport {
  const { ways, costs, start } = problem;
  const search = new Search(problem, most);
  for (const steps of known) search.run(steps, 0, start);
  const mean = costs.reduce((sum, cost) => sum + cost, 0) / Math.max(1, costs.length);
  const once = ways.map(() => 1);
  let method: SequenceMethod = 'exchange';
  if (search.affords(partialSequences(ways) * mean)) {
    everyOrder(search, ways);
    method = 'every-order-and-way';
  } else {
    if (search.affords(partialSequences(once) * mean)) {
      everyOrder(search, once);
      method = 'every-order';
    } else {
      const each = ways.reduce((sum, count, i) => sum + count * costs[i]!, 0);
      if (search.affords((each * (ways.length + 1)) / 2)) greedy(search);
    }
    if (search.best === undefined)
      search.run(
        once.map((_, item) => ({ item, way: 0 })),
        0,
        start,
      );
    improve(search);
  }
  return { best: search.best!, worst: search.worst!, method, tried: search.tried };
}
