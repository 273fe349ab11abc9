import type { Budget } from '../../base/budget.js';
import type { Random } from '../../base/random.js';
import { IteratedExchange } from './iterated-exchange.js';
import type { SequencedProblem } from './sequence-costs.js';
import { SequenceOrder } from './sequence-order.js';

/** Rounds of one call for each item. Our choice: repairs take a small part of the time then. */
const ROUNDS = 10;

/** The exchange of blocks on paths of a problem that offers the costs of its arcs. */
export class SequenceImprover {
  private readonly sequence: SequenceOrder;
  private readonly search: IteratedExchange;

  constructor(
    private readonly problem: SequencedProblem,
    moves: readonly number[],
    random: Random,
  ) {
    const items = moves.map((move) => problem.itemOf(move));
    this.sequence = new SequenceOrder(items, problem.sequence);
    this.search = new IteratedExchange(this.sequence, random);
  }

  /** The moves of a better path than ever before, if one is found. */
  improve(budget: Budget): number[] | undefined {
    if (!this.search.run(budget, ROUNDS * this.sequence.count)) return undefined;
    return this.sequence.itemsOf(this.search.bestOrder).map((item) => this.problem.sequence.moveOf(item));
  }

  /** Goes on from a better path. */
  adopt(moves: readonly number[]): void {
    this.search.adopt(this.sequence.nodesOf(moves.map((move) => this.problem.itemOf(move))));
  }
}
