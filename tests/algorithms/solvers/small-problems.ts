import fc from 'fast-check';
import {
  addCost,
  compareCost,
  subtractCost,
  unreachableCost,
  zeroCost,
  type Cost,
} from '../../../src/algorithms/cost.js';
import type { Dominance, PackedProblem, StateRow } from '../../../src/algorithms/solvers/packed-problem.js';
import { seededRandom } from '../../../src/base/random.js';

/** A random order problem, small enough to list every path. */
export interface SmallOrder {
  readonly items: number;
  readonly terms: number;
  /** The item of each move. */
  readonly itemOf: readonly number[];
  /** before[item]: the items that must be done before it. May be a cycle. */
  readonly before: readonly (readonly number[])[];
  /** cost[last move + 1][move], undefined where the move may not follow; the first row is for the first move. */
  readonly cost: readonly (readonly (Cost | undefined)[])[];
}

export interface SmallShape {
  readonly seed: number;
  readonly items: number;
  readonly terms: number;
  /** Chance of a precedence between two items, and of a move that may not follow another. */
  readonly density: number;
  readonly forbidden: number;
  /** Whether a cost depends on the move before. */
  readonly dependent: boolean;
}

/** Fewer ways the more items, so that the paths stay few enough to be listed. */
const WAYS = [1, 3, 3, 3, 3, 2, 1, 1, 1];

export function randomOrder(shape: SmallShape): SmallOrder {
  const { items, terms } = shape;
  const random = seededRandom(shape.seed);
  const whole = (below: number): number => Math.floor(random() * below);
  const itemOf = Array.from({ length: items }, (_, item) => {
    const ways = 1 + whole(WAYS[items]!) + (items === 6 && item === 0 ? 1 : 0);
    return new Array<number>(ways).fill(item);
  }).flat();
  const rank = Array.from({ length: items }, () => random());
  const cyclic = random() < 0.05;
  const before = rank.map((own, a) =>
    rank.flatMap((other, b) => ((other < own || cyclic) && a !== b && random() < shape.density ? [b] : [])),
  );
  const grain = random() < 0.2 ? 0.25 : 1;
  const drawn = (): Cost => Array.from({ length: terms }, () => whole(4) * grain);
  const own = itemOf.map(drawn);
  const cost = Array.from({ length: itemOf.length + 1 }, () =>
    itemOf.map((_, move) => {
      if (!shape.dependent) return own[move]!;
      return random() < shape.forbidden ? undefined : drawn();
    }),
  );
  return { items, terms, itemOf, before, cost };
}

/** Items with nothing but what must come before what: pairs of one and a later one. */
export function precedenceOnly(items: number, pairs: readonly (readonly [number, number])[]): SmallOrder {
  const all = Array.from({ length: items }, (_, item) => item);
  const before = all.map((item) => pairs.flatMap(([a, b]) => (b === item ? [a] : [])));
  const row = all.map(() => [0]);
  return { items, terms: 1, itemOf: all, before, cost: [row, ...all.map(() => row)] };
}

/** Every path by plain recursion over the data, with its cost. */
export function allPaths(order: SmallOrder): { moves: number[]; cost: Cost }[] {
  const found: { moves: number[]; cost: Cost }[] = [];
  const moves: number[] = [];
  const done = new Set<number>();
  const walk = (last: number, sum: Cost): void => {
    if (done.size === order.items) found.push({ moves: [...moves], cost: sum });
    order.itemOf.forEach((item, move) => {
      const cost = order.cost[last + 1]![move];
      if (cost === undefined || done.has(item) || order.before[item]!.some((other) => !done.has(other)))
        return;
      done.add(item);
      moves.push(move);
      walk(move, addCost(sum, cost));
      moves.pop();
      done.delete(item);
    });
  };
  walk(-1, zeroCost(order.terms));
  return found;
}

export const leastCost = (costs: readonly Cost[]): Cost | undefined => [...costs].sort(compareCost)[0];

/** How a problem is packed and what it tells beside its moves. */
export interface Packing {
  /** Items in a word; few, so that sets take several words. */
  readonly perWord: number;
  /** From no bound to the exact one. */
  readonly bound: 'none' | 'half' | 'first-term' | 'exact';
  readonly dominance: boolean;
  readonly sharpens: boolean;
}

/** The order as a packed problem: words of the items done, then the last move + 1, then a word that follows from them. */
export function packed(order: SmallOrder, packing: Packing): PackedProblem {
  const setWords = Math.ceil(order.items / packing.perWord);
  const view = new SmallView(order, setWords, packing.perWord);
  const dependent = order.cost.some((row) => row.some((cost, move) => cost !== order.cost[0]![move]));
  let cutoff: Cost | undefined;
  /** Whether a path of less than the cutoff goes through a state. */
  const worth = (state: StateRow): boolean => {
    if (cutoff === undefined) return true;
    return compareCost(addCost(view.leastTo(state), view.leastFrom(state)), cutoff) < 0;
  };
  const after = new Uint32Array(setWords + 2);
  const problem: PackedProblem = {
    terms: order.terms,
    layers: order.items,
    items: order.items,
    moves: order.itemOf.length,
    itemOf: (move) => order.itemOf[move]!,
    words: setWords + 2,
    keyWords: dependent ? setWords + 1 : setWords,
    start: (state) => void state.fill(0),
    movesFrom: (state, into) => {
      const legal = view.legal(state).filter((move) => (view.follow(state, move, after), worth(after)));
      into.set(legal);
      return legal.length;
    },
    follow: (state, move, to, cost) => {
      view.follow(state, move, to);
      cost.set(order.cost[state[setWords]!]![move]!);
    },
    bound: (state, layer, into) => {
      if (layer !== view.count(state))
        throw new RangeError(`A state of ${view.count(state)} items in layer ${layer}.`);
      const exact = worth(state) ? view.leastFrom(state) : unreachableCost(order.terms);
      into.set(weakened(exact, packing.bound));
    },
  };
  if (packing.dominance && dependent)
    Object.assign(problem, { dominance: dominanceOf(order, view, setWords) });
  if (packing.sharpens) Object.assign(problem, { sharpen: (cost: Cost) => void (cutoff = cost) });
  return problem;
}

function weakened(exact: Cost, kind: Packing['bound']): Cost {
  if (kind === 'exact') return exact;
  const rest = zeroCost(exact.length - 1);
  if (kind === 'first-term') return [exact[0]!, ...rest];
  return [kind === 'half' ? Math.floor(exact[0]! / 2) : 0, ...rest];
}

/** The same items done: the next move is what differs, by as much as the worst of those that the other may do. */
function dominanceOf(order: SmallOrder, view: SmallView, words: number): Dominance {
  return {
    words,
    surcharge: (a, b, into) => {
      let most: Cost =
        view.count(b) === order.items ? zeroCost(order.terms) : unreachableCost(order.terms).map((x) => -x);
      for (const move of view.legal(b)) {
        const own = order.cost[a[words]!]![move] ?? unreachableCost(order.terms);
        const more = subtractCost(own, order.cost[b[words]!]![move]!);
        if (compareCost(more, most) > 0) most = more;
      }
      into.set(most);
    },
  };
}

/** Reads and makes states, and knows the least cost to and from each. */
class SmallView {
  private readonly from = new Map<string, Cost>();
  private readonly to = new Map<string, Cost>();

  constructor(
    private readonly order: SmallOrder,
    private readonly setWords: number,
    private readonly perWord: number,
  ) {}

  private has(state: StateRow, item: number): boolean {
    return ((state[Math.floor(item / this.perWord)]! >>> (item % this.perWord)) & 1) === 1;
  }

  count(state: StateRow): number {
    return this.order.before.filter((_, item) => this.has(state, item)).length;
  }

  legal(state: StateRow): number[] {
    const { itemOf, before, cost } = this.order;
    const costs = cost[state[this.setWords]!]!;
    return itemOf.flatMap((item, move) => {
      if (this.has(state, item) || costs[move] === undefined) return [];
      return before[item]!.every((other) => this.has(state, other)) ? [move] : [];
    });
  }

  follow(state: StateRow, move: number, to: StateRow): void {
    const item = this.order.itemOf[move]!;
    to.set(state);
    to[Math.floor(item / this.perWord)]! |= 1 << (item % this.perWord);
    to[this.setWords] = move + 1;
    to[this.setWords + 1] = 7 * this.count(to) + move;
  }

  /** Least cost from a state to the end. */
  leastFrom(state: StateRow): Cost {
    const key = this.keyOf(state);
    let least = this.from.get(key);
    if (least !== undefined) return least;
    const { terms, items, cost } = this.order;
    least = this.count(state) === items ? zeroCost(terms) : unreachableCost(terms);
    const after = new Uint32Array(state.length);
    for (const move of this.legal(state)) {
      this.follow(state, move, after);
      const sum = addCost(cost[state[this.setWords]!]![move]!, this.leastFrom(after));
      if (sum[0] !== Infinity && compareCost(sum, least) < 0) least = sum;
    }
    this.from.set(key, least);
    return least;
  }

  /** Least cost from the start to a state. */
  leastTo(state: StateRow): Cost {
    if (this.to.size === 0) this.walk();
    return this.to.get(this.keyOf(state)) ?? unreachableCost(this.order.terms);
  }

  private walk(): void {
    const { terms, items, cost } = this.order;
    const start = new Uint32Array(this.setWords + 2);
    let layer: StateRow[] = [start];
    this.to.set(this.keyOf(start), zeroCost(terms));
    for (let count = 0; count < items; count += 1) {
      const next = new Map<string, StateRow>();
      for (const state of layer)
        for (const move of this.legal(state)) {
          const after = new Uint32Array(state.length);
          this.follow(state, move, after);
          const sum = addCost(this.to.get(this.keyOf(state))!, cost[state[this.setWords]!]![move]!);
          const known = this.to.get(this.keyOf(after));
          if (known === undefined || compareCost(sum, known) < 0) this.to.set(this.keyOf(after), sum);
          next.set(this.keyOf(after), after);
        }
      layer = [...next.values()];
    }
  }

  private keyOf(state: StateRow): string {
    return state.subarray(0, this.setWords + 1).join();
  }
}

/** Hundreds of them, of all kinds. */
export const anyOrder = fc
  .record({
    seed: fc.integer(),
    items: fc.integer({ min: 1, max: 7 }),
    terms: fc.integer({ min: 1, max: 3 }),
    density: fc.constantFrom(0, 0.1, 0.3, 0.6),
    forbidden: fc.constantFrom(0, 0.1, 0.4),
    dependent: fc.boolean(),
  })
  .map(randomOrder);

export const anyPacking: fc.Arbitrary<Packing> = fc.record({
  perWord: fc.constantFrom(2, 3, 32),
  bound: fc.constantFrom('none' as const, 'half' as const, 'first-term' as const, 'exact' as const),
  dominance: fc.boolean(),
  sharpens: fc.boolean(),
});
