import type { BestSequence } from '../algorithms/best-sequence.js';
import type { JudgedOrder } from '../algorithms/permutations.js';
import { snap } from '../base/order.js';
import type { TackHabit } from '../model/tack-habit.js';
import { inHabit } from '../rules/tack-habits.js';
import type { ChosenTack } from './tack-layout.js';

/** Tacks in the order of a habit, which sees them by seam and place. */
export const orderedBy = <T extends ChosenTack>(habit: TackHabit, tacks: readonly T[]): readonly T[] =>
  inHabit(
    habit,
    tacks.map((tack) => ({ seam: tack.site.seam.id, at: tack.at, along: tack.along, tack })),
  ).map(({ tack }) => tack);

/** The order in which tacks are laid where no prediction speaks for another. */
export const usualOrder = <T extends ChosenTack>(tacks: readonly T[]): readonly T[] =>
  orderedBy('ends-first', tacks);

/** The tacks of a stage by phase, each phase in some order. */
export interface Phases<T extends ChosenTack = ChosenTack> {
  readonly securing: readonly T[];
  readonly completing: readonly T[];
}

/** Tacks by phase, in the usual order. */
export const phasesOf = (tacks: readonly ChosenTack[], securing: readonly ChosenTack[]): Phases => ({
  securing: usualOrder(tacks.filter((tack) => securing.includes(tack))),
  completing: usualOrder(tacks.filter((tack) => !securing.includes(tack))),
});

/** The numbers that the tacks of both phases have in a habit, in the list of all: the securing ones before the others. */
export function habitNumbers(habit: TackHabit, { securing, completing }: Phases): readonly number[] {
  const all = [...securing, ...completing];
  return [...orderedBy(habit, securing), ...orderedBy(habit, completing)].map((tack) => all.indexOf(tack));
}

/** Tacks taken by their numbers in the list of all. */
export function inNumbers<T extends ChosenTack>(
  { securing, completing }: Phases<T>,
  order: readonly number[],
): Phases<T> {
  const all = [...securing, ...completing].map((_, i) => [...securing, ...completing][order[i]!]!);
  return { securing: all.slice(0, securing.length), completing: all.slice(securing.length) };
}

/** The best order, or the one that there is where it is not better by as much as asked for, mm. */
export const worthIt = (
  there: JudgedOrder,
  { least }: Pick<BestSequence, 'least'>,
  gain: number,
): JudgedOrder => (snap(there.value - least.value - gain, 1e-9) >= 0 ? least : there);
