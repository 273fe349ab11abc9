import { snap } from '../base/order.js';

/**
 * Items that are taken one by one, in groups: all of a group before those of the next. What the end is worth depends on
 * the order of all of them, so that no two beginnings are alike.
 */
export interface Sequence<State> {
  /** Numbers of the items, those of each group in their usual order; every number at most once. */
  readonly groups: readonly (readonly number[])[];
  readonly start: State;
  /** The state with one more item; the given one stays as it is. */
  after(state: State, item: number): State;
  /** What shall be small, from 0 to infinite: of the end where every item is taken, and as a guess of any state before it. */
  value(state: State): number;
}

/** An order of all items and what its end is worth. */
export interface JudgedOrder {
  readonly order: readonly number[];
  readonly value: number;
}

/** Values that differ by less are one. */
const SAME = 1e-9;

/** Negative where the first is worth less, by more than a last bit. */
export const compareValues = (a: JudgedOrder, b: JudgedOrder): number =>
  a.value === b.value ? 0 : snap(a.value - b.value, SAME);

/** In how many orders the items of groups can be taken; infinite beyond what a number can be. */
export const countOrders = (groups: readonly { readonly length: number }[]): number =>
  groups.reduce((product, { length }) => {
    let count = product;
    for (let i = 2; i <= length; i += 1) count *= i;
    return count;
  }, 1);

/** What one order is worth. */
export const judged = <State>(sequence: Sequence<State>, order: readonly number[]): JudgedOrder => ({
  order,
  value: sequence.value(order.reduce((state, item) => sequence.after(state, item), sequence.start)),
});

/**
 * The order of least value of all there are, of equals the one that comes first when all are listed by the usual order.
 * Orders that begin alike share the work of their beginning. Nothing is left out.
 */
export function leastOfAll<State>(sequence: Sequence<State>): JudgedOrder {
  const { groups } = sequence;
  let least: JudgedOrder | undefined;
  const extend = (state: State, taken: readonly number[], group: number, left: readonly number[]): void => {
    if (left.length === 0) {
      const next = groups[group + 1];
      if (next !== undefined) return extend(state, taken, group + 1, next);
      const found = { order: taken, value: sequence.value(state) };
      if (least === undefined || compareValues(found, least) < 0) least = found;
      return;
    }
    for (const item of left)
      extend(
        sequence.after(state, item),
        [...taken, item],
        group,
        left.filter((other) => other !== item),
      );
  };
  extend(sequence.start, [], -1, []);
  return least!;
}
