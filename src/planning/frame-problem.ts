import { PathTreeBound } from '../algorithms/path-tree-bound.js';
import type { PackedProblem } from '../algorithms/solvers/packed-problem.js';
import { barTravel, type Frame } from '../model/frame.js';
import { FrameStates, isIn } from './frame-states.js';

/** What an order of bars costs, most important first. */
export const FRAME_TERMS = ['held', 'travel-mm'] as const;

/** Rounds of looking for prices of the bound on the travel (our choice). */
const ROUNDS = 300;

/**
 * The order in which the bars of a frame join, one with each move; move and item are the number of the bar. A bar may join
 * when it ends on the table or on a bar in place, and when no more than the allowed number of pieces and bars must stay
 * held afterwards, after the last bar none. Costs are how many stay held when the next bar comes, summed over the
 * moves, and the travel between the middles of one bar and the next, in whole mm.
 *
 * A state is the set of bars in place and the last of them, and carries the bound on the travel that is left.
 */
export function frameProblem(frame: Frame): PackedProblem {
  const { bars, choices } = frame;
  const count = bars.length;
  const setWords = Math.ceil(count / 32);
  const [LAST, LEFT] = [setWords, setWords + 1];
  const states = new FrameStates(frame);
  const travel = travelTable(frame);
  const rest = new RestOfTravel(frame, travel);
  const possible = states.finishedStands();
  const placed = (state: Uint32Array): number => {
    let sum = 0;
    for (let bar = 0; bar < count; bar += 1) sum += isIn(state, bar) ? 1 : 0;
    return sum;
  };
  return {
    terms: 2,
    layers: count,
    items: count,
    moves: count,
    itemOf: (move) => move,
    words: setWords + 2,
    keyWords: setWords + 1,
    start: (state) => {
      state.fill(0);
      state[LAST] = count;
      state[LEFT] = rest.ofAll();
    },
    movesFrom: (state, into) => {
      const allowed = placed(state) + 1 === count ? 0 : choices.holds;
      let found = 0;
      for (let bar = 0; bar < count; bar += 1)
        if (!isIn(state, bar) && states.reaches(state, bar) && states.heldWith(state, bar) <= allowed)
          into[found++] = bar;
      return found;
    },
    follow: (state, bar, to, cost) => {
      to.set(state);
      to[bar >>> 5]! |= 1 << (bar & 31);
      to[LAST] = bar;
      to[LEFT] = rest.from(state, bar);
      cost[0] = states.heldWith(state, bar);
      cost[1] = state[LAST] === count ? 0 : travel[state[LAST]! * count + bar]!;
    },
    bound: (state, layer, into) => {
      into[0] = possible ? 0 : Infinity;
      into[1] = layer === count ? 0 : state[LEFT]!;
    },
  };
}

/** Travel from bar to bar in whole mm, row by row. */
function travelTable(frame: Frame): Float64Array {
  const { bars } = frame;
  const travel = new Float64Array(bars.length ** 2);
  bars.forEach((from, i) => bars.forEach((to, j) => (travel[i * bars.length + j] = barTravel(from, to))));
  return travel;
}

/** Bounds on the travel that is left. Of all moves from a state the last one that was asked about is kept. */
class RestOfTravel {
  private readonly bound: PathTreeBound;
  private readonly left: Uint8Array;
  private known: { readonly set: Uint32Array; readonly openBegin: number } | undefined;

  constructor(frame: Frame, travel: Float64Array) {
    this.left = new Uint8Array(frame.bars.length);
    this.bound = new PathTreeBound(frame.bars.length, travel, ROUNDS);
  }

  ofAll(): number {
    return this.bound.fromAnywhere(this.left.fill(1));
  }

  /** Of a path that begins at a bar, over all that were not in place before it. */
  from(before: Uint32Array, bar: number): number {
    const words = Math.ceil(this.left.length / 32);
    if (this.known?.set.every((word, i) => word === before[i]) !== true) {
      this.left.forEach((_, i) => (this.left[i] = isIn(before, i) ? 0 : 1));
      this.known = { set: before.slice(0, words), openBegin: this.bound.openBegin(this.left) };
    }
    return this.bound.fromOne(this.known!.openBegin, bar);
  }
}
