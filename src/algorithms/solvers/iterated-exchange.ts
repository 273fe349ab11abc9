import type { Budget } from '../../base/budget.js';
import type { Random } from '../../base/random.js';
import { BlockExchange } from './block-exchange.js';
import type { SequenceOrder } from './sequence-order.js';

/** Places that a kick may span, and the exchanges that it makes. Our choice. */
const KICK_SPAN = 30;
const KICKS = 3;
/**
 * A round may leave the order worse by up to a share of the mean arc, drawn evenly up to twice a warmth that
 * falls from `HOT` to `COLD` over a cycle, most of it early. The first cycle has `FIRST_ROUNDS` rounds for
 * each item, each further one twice as many as the one before, up to `MOST_ROUNDS`. Our choice, tried on
 * published instances.
 */
const HOT = 5;
const COLD = 0.05;
const FIRST_ROUNDS = 20;
const MOST_ROUNDS = 1000;

/**
 * Iterated local search (Lourenço, Martin and Stützle 2003): from a local optimum a few random exchanges of
 * neighbouring blocks nearby, then exchanges as long as they help; what is too much worse is taken back,
 * which is decided by a threshold (Dueck and Scheuer, Journal of Computational Physics 90, 1990).
 */
export class IteratedExchange {
  bestCost: number;
  readonly bestOrder: Int32Array;
  private readonly exchange: BlockExchange;
  private readonly saved: Int32Array;
  /** Cost of the order that a round begins with. */
  private savedCost = Infinity;
  private round = 0;
  private rounds: number;

  constructor(
    private readonly sequence: SequenceOrder,
    private readonly random: Random,
  ) {
    this.exchange = new BlockExchange(sequence);
    this.rounds = FIRST_ROUNDS * sequence.count;
    this.bestCost = sequence.cost;
    this.bestOrder = sequence.order.slice();
    this.saved = sequence.order.slice();
    this.exchange.mark();
    this.exchange.lookAtAll();
  }

  /** Goes on from another order. */
  adopt(order: Int32Array): void {
    const { sequence, saved } = this;
    saved.set(order);
    this.savedCost = sequence.costOf(order);
    sequence.restore(saved, 0, sequence.count + 1, this.savedCost);
    if (this.savedCost < this.bestCost) {
      this.bestCost = this.savedCost;
      this.bestOrder.set(order);
    }
    this.exchange.mark();
    this.exchange.lookAtAll();
  }

  /**
   * A number of rounds; true when there is a new best order. Each takes a step at least, also where no exchange is
   * legal and there is nothing to look at: so that who runs it until the budget ends does not wait for ever.
   */
  run(budget: Budget, rounds: number): boolean {
    const before = this.bestCost;
    for (let round = 0; round < rounds; round += 1) {
      const spent = budget.steps;
      if (!this.exchange.descend(budget)) break;
      if (budget.steps === spent && !budget.take()) break;
      this.judge();
      this.kick();
    }
    return this.bestCost < before;
  }

  /** Keeps what the last round made of the order, or takes it back. */
  private judge(): void {
    const { sequence, exchange, saved } = this;
    if (sequence.cost - this.savedCost > this.allowed()) {
      sequence.restore(saved, exchange.from, exchange.to, this.savedCost);
      return;
    }
    for (let at = exchange.from; at <= exchange.to; at += 1) saved[at] = sequence.order[at]!;
    this.savedCost = sequence.cost;
    if (this.savedCost >= this.bestCost) return;
    this.bestCost = this.savedCost;
    this.bestOrder.set(saved);
  }

  /** How much worse the order may become in this round. */
  private allowed(): number {
    const { count } = this.sequence;
    if (this.round >= this.rounds) {
      this.round = 0;
      this.rounds = Math.min(2 * this.rounds, MOST_ROUNDS * count);
    }
    const left = 1 - this.round / this.rounds;
    this.round += 1;
    const warmth = COLD + (HOT - COLD) * left * left * left * left;
    return (2 * this.random() * warmth * this.bestCost) / count;
  }

  private kick(): void {
    const { sequence, random, exchange } = this;
    const { count } = sequence;
    exchange.mark();
    if (count < 2) return;
    const span = Math.min(KICK_SPAN, count);
    const start = 1 + Math.floor(random() * (count - span + 1));
    const within = (): number => start + Math.floor(random() * span);
    for (let made = 0, tries = 0; made < KICKS && tries < 10 * KICKS; tries += 1) {
      const [i, j, k] = [within(), within(), within()].sort((a, b) => a - b) as [number, number, number];
      if (j === k || !(sequence.change(i, j, k) < Infinity) || !sequence.mayExchange(i, j, k)) continue;
      exchange.exchange(i, j, k);
      made += 1;
    }
  }
}
