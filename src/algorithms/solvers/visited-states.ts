import { compareRows } from './cost-rows.js';
import type { PackedProblem, StateRow } from './packed-problem.js';
import { hashOfState } from './state-hash.js';

/** Entries that share a hash. */
const BUCKET = 4;
const FIRST_BUCKETS = 64;
const EMPTY = 0;
/** More buckets than a typed array could hold states of, so that memory without a limit is one too. */
const MOST_BUCKETS = 2 ** 28;

/**
 * States that were explored to the end, with the cost at which they were reached: a later one that is equal,
 * or dominated, and not cheaper has nothing new. The table grows up to a number of bytes; then an entry of
 * the deepest layer in the way is replaced, since what lies below it is least. Forgetting costs time, never
 * truth.
 */
export class VisitedStates {
  private readonly compared: number;
  private readonly surcharge: Float64Array;
  private mostBuckets: number;
  private buckets = FIRST_BUCKETS;
  private used = 0;
  /** One more than the layer; `EMPTY` where there is no entry. */
  private layers: Uint32Array;
  private states: Uint32Array;
  private costs: Float64Array;

  constructor(
    private readonly problem: PackedProblem,
    bytes: number,
  ) {
    const { words, terms, keyWords, dominance } = problem;
    this.compared = dominance?.words ?? keyWords;
    this.surcharge = new Float64Array(terms);
    const bucketBytes = BUCKET * (4 + 4 * words + 8 * terms);
    this.mostBuckets = powerOfTwoUpTo(Math.max(1, Math.min(bytes / bucketBytes, MOST_BUCKETS)));
    this.buckets = Math.min(FIRST_BUCKETS, this.mostBuckets);
    this.layers = new Uint32Array(BUCKET * this.buckets);
    this.states = new Uint32Array(BUCKET * this.buckets * words);
    this.costs = new Float64Array(BUCKET * this.buckets * terms);
  }

  /**
   * Whether the state has nothing new at this cost; if it has, it is put into the table, and must then be
   * explored to the end before any other state of its layer is asked about.
   */
  covers(state: StateRow, layer: number, cost: Float64Array): boolean {
    const first = this.bucketOf(state, layer);
    let place = first;
    for (let at = first; at < first + BUCKET; at += 1) {
      if (this.layers[at] === layer + 1 && this.agree(at, state, this.compared)) {
        const equal = this.agree(at, state, this.problem.keyWords);
        if (this.beats(at, state, cost, equal)) return true;
        if (equal) {
          this.put(at, state, layer, cost);
          return false;
        }
      }
      if (this.isBetterPlace(at, place)) place = at;
    }
    if (this.layers[place] === EMPTY) this.used += 1;
    this.put(place, state, layer, cost);
    if (2 * this.used > BUCKET * this.buckets && this.buckets < this.mostBuckets) this.grow();
    return false;
  }

  private beats(at: number, state: StateRow, cost: Float64Array, equal: boolean): boolean {
    const { problem, costs, surcharge } = this;
    const { terms, words } = problem;
    surcharge.fill(0);
    if (!equal) {
      if (problem.dominance === undefined) return false;
      problem.dominance.surcharge(this.states.subarray(at * words, (at + 1) * words), state, surcharge);
      if (surcharge[0] === Infinity) return false;
    }
    for (let term = 0; term < terms; term += 1) surcharge[term]! += costs[at * terms + term]!;
    return compareRows(surcharge, 0, cost, 0, terms) <= 0;
  }

  private agree(at: number, state: StateRow, words: number): boolean {
    for (let i = 0, base = at * this.problem.words; i < words; i += 1)
      if (this.states[base + i] !== state[i]) return false;
    return true;
  }

  /** Empty places first, then the deepest layer. */
  private isBetterPlace(at: number, than: number): boolean {
    const [a, b] = [this.layers[at]!, this.layers[than]!];
    return b !== EMPTY && (a === EMPTY || a > b);
  }

  private put(at: number, state: StateRow, layer: number, cost: Float64Array): void {
    const { words, terms } = this.problem;
    this.layers[at] = layer + 1;
    for (let i = 0; i < words; i += 1) this.states[at * words + i] = state[i]!;
    for (let term = 0; term < terms; term += 1) this.costs[at * terms + term] = cost[term]!;
  }

  private bucketOf(state: StateRow, layer: number): number {
    return (hashOfState(state, this.compared, layer) & (this.buckets - 1)) * BUCKET;
  }

  /** Where the machine has no room for more, the table stays as it is. */
  private grow(): void {
    const { words, terms } = this.problem;
    const { layers, states, costs } = this;
    try {
      const larger = [
        new Uint32Array(2 * layers.length),
        new Uint32Array(2 * states.length),
        new Float64Array(2 * costs.length),
      ] as const;
      [this.layers, this.states, this.costs] = larger;
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.mostBuckets = this.buckets;
      return;
    }
    this.buckets *= 2;
    for (let from = 0; from < layers.length; from += 1) {
      if (layers[from] === EMPTY) continue;
      const layer = layers[from]! - 1;
      const state = states.subarray(from * words, (from + 1) * words);
      // A bucket splits into two, so that there is always an empty place.
      let at = this.bucketOf(state, layer);
      while (this.layers[at] !== EMPTY) at += 1;
      this.put(at, state, layer, costs.subarray(from * terms, (from + 1) * terms));
    }
  }
}

function powerOfTwoUpTo(most: number): number {
  let power = 1;
  while (2 * power <= most) power *= 2;
  return power;
}
