import { Budget } from '../base/budget.js';
import { snap } from '../base/order.js';
import {
  compareValues,
  countOrders,
  judged,
  leastOfAll,
  type JudgedOrder,
  type Sequence,
} from './permutations.js';
import type { Completion, SearchProblem, Transition } from './problem.js';
import { search } from './search.js';

/** What looking for the best order came to. */
export interface BestSequence {
  /** The orders that were given, judged. */
  readonly known: readonly JudgedOrder[];
  /** Of least value; a given one, the earliest of them, before any other that is worth as much. */
  readonly least: JudgedOrder;
  /** Different orders, or where not all were tried, whole ones that were judged. */
  readonly tried: number;
  /** Whether that is every order there is, so that none is better. */
  readonly all: boolean;
}

/** How much is tried. */
export interface SequenceLimits {
  /** All orders where there are no more than this, else a search. */
  readonly most: number;
  /** States that the search may go on from. */
  readonly steps: number;
}

/**
 * The best order of a sequence: all of them are tried where they are few enough, else it is the best of those that a beam
 * search comes to. `known` are orders to compare with, at least one.
 */
export function bestSequence<State>(
  sequence: Sequence<State>,
  known: readonly (readonly number[])[],
  { most, steps }: SequenceLimits,
): BestSequence {
  const first = known.map((order) => judged(sequence, order));
  const orders = countOrders(sequence.groups);
  const all = orders <= most;
  const found = all ? { least: leastOfAll(sequence), tried: orders } : leastFound(sequence, steps);
  const least = [...first, found.least].reduce((a, b) => (compareValues(b, a) < 0 ? b : a));
  return { known: first, least, all, tried: all ? orders : found.tried + first.length };
}

/** Items taken so far: how many, which, the last of them, and the state that they lead to. */
interface Taken<State> {
  readonly count: number;
  readonly items: readonly number[];
  readonly state: State;
}

/** Costs are whole numbers: values are counted in thousandths, up to what is as good as infinite. */
const whole = (value: number): number => Math.round(snap(Math.min(value, 1e6), 1e-9) * 1000);

/**
 * The best order that the generic search meets. It is led by the sum of the values on the way and takes states with the
 * same items and the same last one for alike, which need not be so: its claims are not handed on.
 */
function leastFound<State>(
  sequence: Sequence<State>,
  steps: number,
): { readonly least: JudgedOrder; readonly tried: number } {
  const met: JudgedOrder[] = [];
  search(asProblem(sequence, met), { budget: new Budget({ steps }), maxNodes: 4 * steps });
  const usual = judged(sequence, sequence.groups.flat());
  const least = met.reduce((a, b) => (compareValues(b, a) < 0 ? b : a), usual);
  return { least, tried: met.length };
}

/** A step is an item with the state after it. */
type Step<State> = readonly [item: number, after: State];

function asProblem<State>(
  sequence: Sequence<State>,
  met: JudgedOrder[],
): SearchProblem<Taken<State>, Step<State>> {
  const groupAt = sequence.groups.flatMap((group) => group.map(() => group));
  return {
    terms: 1,
    layers: groupAt.length,
    start: { count: 0, items: [], state: sequence.start },
    layer: ({ count }) => count,
    key: ({ items }) => `${[...items].sort((a, b) => a - b).join()} ${items.at(-1) ?? ''}`,
    bound: () => [0],
    *transitions({ count, items, state }): Iterable<Transition<Taken<State>, Step<State>>> {
      for (const item of groupAt[count] ?? []) {
        if (items.includes(item)) continue;
        const after = sequence.after(state, item);
        const cost = [whole(sequence.value(after))];
        yield { to: { count: count + 1, items: [...items, item], state: after }, step: [item, after], cost };
      }
    },
    complete(path): Completion<undefined> {
      met.push({ order: path.map(([item]) => item), value: sequence.value(path.at(-1)![1]) });
      const cost = [path.reduce((sum, [, after]) => sum + whole(sequence.value(after)), 0)];
      return { kind: 'legal', cost, result: undefined };
    },
  };
}
