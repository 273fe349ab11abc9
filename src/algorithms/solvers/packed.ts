import type { SearchProblem, Transition } from '../problem.js';
import type { PackedProblem, StateRow } from './packed-problem.js';

/** How the steps of a problem are numbered. */
export interface StepNumbers<Step> {
  readonly items: number;
  /** One more than the greatest number that `moveOf` gives. */
  readonly moves: number;
  /** The number of a step, which must differ from those of the other steps out of the same state. */
  moveOf(step: Step): number;
  itemOf(move: number): number;
}

/**
 * A problem with object states as a packed one. States get numbers as they are met, equal ones (same layer,
 * same key) the same; a row is the number alone. All states that were met stay in memory, which no solver's
 * memory setting counts, and every move makes an object: for tests and for problems whose states are few,
 * not for speed.
 *
 * @throws RangeError for a problem that judges whole paths, which a packed problem cannot, and, while it is
 * searched, when two steps out of one state have the same number
 */
export function packed<State, Step, Result>(
  problem: SearchProblem<State, Step, Result>,
  numbers: StepNumbers<Step>,
): PackedProblem {
  if (problem.complete !== undefined) throw new RangeError('A packed problem cannot judge whole paths.');
  const { terms, layers } = problem;
  const { items, moves } = numbers;
  const states = new StateNumbers(problem, numbers);
  return {
    terms,
    layers,
    items,
    moves,
    words: 1,
    keyWords: 1,
    itemOf: (move) => numbers.itemOf(move),
    start: (row) => (row[0] = states.numberOf(problem.start)),
    movesFrom: (row, into) => {
      const found = [...states.movesFrom(row).keys()];
      into.set(found);
      return found.length;
    },
    follow: (row, move, to, cost) => {
      const transition = states.movesFrom(row).get(move);
      if (transition === undefined) throw new RangeError(`Move ${move} is not legal here.`);
      to[0] = states.numberOf(transition.to);
      cost.set(transition.cost);
    },
    bound: (row, layer, into) => {
      if (layer === layers) into.fill(0);
      else into.set(problem.bound(states.at(row)));
    },
  };
}

class StateNumbers<State, Step, Result> {
  private readonly states: State[] = [];
  private readonly numbers = new Map<string, number>();
  /** The moves out of the state that was asked about last. */
  private asked: { readonly state: number; readonly moves: Map<number, Transition<State, Step>> } | undefined;

  constructor(
    private readonly problem: SearchProblem<State, Step, Result>,
    private readonly stepNumbers: StepNumbers<Step>,
  ) {}

  at(row: StateRow): State {
    return this.states[row[0]!]!;
  }

  numberOf(state: State): number {
    const key = `${this.problem.layer(state)}/${this.problem.key(state)}`;
    const known = this.numbers.get(key);
    if (known !== undefined) return known;
    this.numbers.set(key, this.states.length);
    return this.states.push(state) - 1;
  }

  movesFrom(row: StateRow): Map<number, Transition<State, Step>> {
    if (this.asked?.state === row[0]) return this.asked!.moves;
    const moves = new Map<number, Transition<State, Step>>();
    for (const transition of this.problem.transitions(this.at(row))) {
      const move = this.stepNumbers.moveOf(transition.step);
      if (moves.has(move)) throw new RangeError(`Two steps out of one state have the number ${move}.`);
      moves.set(move, transition);
    }
    this.asked = { state: row[0]!, moves };
    return moves;
  }
}
