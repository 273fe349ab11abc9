import { seededRandom, type Random } from '../base/random.js';
import type { Network } from './disjunctive-network.js';
import { Timing, type SpanOrders } from './disjunctive-timing.js';

export interface LocalSearchOptions {
  /** Stop at this makespan: it cannot be beaten. */
  readonly bound: number;
  /** Asked before every move. */
  readonly mayMove: () => boolean;
  readonly rounds: number;
  readonly seed: number;
  readonly onBetter: (orders: SpanOrders, timing: Timing) => void;
}

/** Moves without a better makespan before a round ends, by number of spans; our choice, as are the other numbers here. */
const PATIENCE = { each: 15, most: 1500 };
/** Each further round starts from the best orders, shaken by a few random moves. */
const SHAKES = 8;
/** A move may be undone after so many others, and up to twice as many. */
const SHORTEST_BAN = 5;

/** One span goes to another place in the order of its resource. */
interface Move {
  readonly resource: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Tabu search over critical blocks: spans of one resource that follow each other on a longest path. In a job-shop the
 * makespan only falls when one of them moves before the first or behind the last of its block (Brucker, Jurisch and
 * Sievers 1994). Every such move is timed in full; those that make operations wait for each other are dropped.
 */
export function improveOrders(network: Network, start: SpanOrders, options: LocalSearchOptions): void {
  const search = new LocalSearch(network, start, options);
  for (let round = 0; round < options.rounds && search.round(); round += 1) search.shake();
}

class LocalSearch {
  private readonly timing: Timing;
  private readonly random: Random;
  private orders: Int32Array[];
  private best: Int32Array[];
  private least = Infinity;
  /** By two spans: the move number until which the first may not be put before the second. */
  private readonly bannedUntil: Int32Array;
  private readonly spans: number;
  private moves = 0;

  constructor(
    network: Network,
    start: SpanOrders,
    private readonly options: LocalSearchOptions,
  ) {
    this.timing = new Timing(network);
    this.random = seededRandom(options.seed);
    this.orders = start.map((order) => order.slice());
    this.best = start.map((order) => order.slice());
    this.spans = network.first.length;
    this.bannedUntil = new Int32Array(this.spans * this.spans);
    this.timing.run(this.orders);
    this.least = this.timing.makespan;
  }

  /** False when nothing more can be gained or spent. */
  round(): boolean {
    const patience = Math.min(PATIENCE.most, PATIENCE.each * this.spans);
    for (let idle = 0; idle < patience; idle += 1) {
      if (this.least <= this.options.bound || !this.options.mayMove()) return false;
      const move = this.choose(this.neighbours());
      if (move === undefined) return false;
      this.ban(move);
      apply(this.orders, move);
      this.timing.run(this.orders);
      if (this.timing.makespan >= this.least) continue;
      idle = 0;
      this.least = this.timing.makespan;
      this.best = this.orders.map((order) => order.slice());
      this.options.onBetter(this.best, this.timing);
    }
    return true;
  }

  shake(): void {
    this.orders = this.best.map((order) => order.slice());
    this.bannedUntil.fill(0);
    for (let count = 0; count < SHAKES; count += 1) {
      this.timing.run(this.orders);
      const moves = this.neighbours();
      const move = moves[Math.floor(this.random() * moves.length)];
      if (move === undefined) break;
      apply(this.orders, move);
      if (!this.timing.run(this.orders)) apply(this.orders, back(move));
    }
    this.timing.run(this.orders);
  }

  private neighbours(): Move[] {
    return this.blocks().flatMap(({ resource, from, to }) => {
      const moves: Move[] = [];
      for (let place = from + 1; place <= to; place += 1) moves.push({ resource, from: place, to: from });
      for (let place = from; place < to; place += 1) {
        if (place + 1 < to || from + 1 < to) moves.push({ resource, from: place, to });
      }
      return moves;
    });
  }

  /** Places that a longest path runs through on one resource. */
  private blocks(): Move[] {
    const blocks: { resource: number; from: number; to: number; end: number }[] = [];
    for (const { waitsFor, span } of this.timing.criticalPath(this.orders)) {
      if (span < 0) continue;
      const last = blocks.at(-1);
      const resource = this.timing.resourceOf[span]!;
      const [from, to] = [this.timing.place[waitsFor]!, this.timing.place[span]!];
      if (last?.end === waitsFor) [last.to, last.end] = [to, span];
      else blocks.push({ resource, from, to, end: span });
    }
    return blocks;
  }

  private choose(moves: readonly Move[]): Move | undefined {
    let chosen: Move | undefined;
    let least = Infinity;
    const legal: Move[] = [];
    for (const move of moves) {
      const banned = this.isBanned(move);
      apply(this.orders, move);
      const runs = this.timing.run(this.orders);
      apply(this.orders, back(move));
      if (!runs) continue;
      legal.push(move);
      if (banned && this.timing.makespan >= this.least) continue;
      if (this.timing.makespan < least) [chosen, least] = [move, this.timing.makespan];
    }
    return chosen ?? legal[Math.floor(this.random() * legal.length)];
  }

  private isBanned({ resource, from, to }: Move): boolean {
    const order = this.orders[resource]!;
    const moved = order[from]!;
    const step = to < from ? -1 : 1;
    for (let at = from + step; ; at += step) {
      const passed = order[at]!;
      const [first, second] = step < 0 ? [moved, passed] : [passed, moved];
      if (this.bannedUntil[first * this.spans + second]! > this.moves) return true;
      if (at === to) return false;
    }
  }

  private ban({ resource, from, to }: Move): void {
    this.moves += 1;
    const order = this.orders[resource]!;
    const moved = order[from]!;
    const until = this.moves + SHORTEST_BAN + Math.floor(this.random() * SHORTEST_BAN);
    const step = to < from ? -1 : 1;
    for (let at = from + step; ; at += step) {
      const passed = order[at]!;
      const [first, second] = step < 0 ? [passed, moved] : [moved, passed];
      this.bannedUntil[first * this.spans + second] = until;
      if (at === to) return;
    }
  }
}

const back = ({ resource, from, to }: Move): Move => ({ resource, from: to, to: from });

function apply(orders: readonly Int32Array[], { resource, from, to }: Move): void {
  const order = orders[resource]!;
  const moved = order[from]!;
  if (to < from) order.copyWithin(to + 1, to, from);
  else order.copyWithin(from, from + 1, to + 1);
  order[to] = moved;
}
