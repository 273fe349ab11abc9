import type { BestSequence } from '../algorithms/best-sequence.js';
import type { JudgedOrder } from '../algorithms/permutations.js';
import { snap } from '../base/order.js';
import type { Facts } from '../facts/facts.js';
import { TACK_HABITS, type TackHabit } from '../model/tack-habit.js';
import { inHabit } from '../rules/tack-habits.js';
import type { ChosenTack } from './tack-layout.js';

/** The tacks of a stage by phase, each phase in some order. */
export interface Phases<T extends ChosenTack = ChosenTack> {
  readonly securing: readonly T[];
  readonly completing: readonly T[];
}

/** Ids of all seams as the joints have them. */
const seamsOf = ({ joints }: Pick<Facts, 'joints'>): readonly string[] =>
  joints.flatMap(({ seams }) => seams.map(({ id }) => id));

/** Tacks in the order of a habit, which sees them by seam and place. */
const orderedBy = (facts: Facts, habit: TackHabit, tacks: readonly ChosenTack[]): readonly ChosenTack[] =>
  inHabit(
    habit,
    seamsOf(facts),
    tacks.map((tack) => ({ seam: tack.site.seam.id, at: tack.at, along: tack.along, tack })),
  ).map(({ tack }) => tack);

/** Tacks by phase, each in the order in which they are laid where no prediction speaks for another. */
export function inUsualOrder(
  facts: Facts,
  tacks: readonly ChosenTack[],
  securing: readonly ChosenTack[],
): Phases {
  const of = (secures: boolean): readonly ChosenTack[] =>
    orderedBy(
      facts,
      TACK_HABITS[0],
      tacks.filter((tack) => securing.includes(tack) === secures),
    );
  return { securing: of(true), completing: of(false) };
}

/** The numbers that the tacks of both phases have in a habit, in the list of all: the securing ones before the others. */
export function habitNumbers(
  facts: Facts,
  habit: TackHabit,
  { securing, completing }: Phases,
): readonly number[] {
  const all = [...securing, ...completing];
  return [...orderedBy(facts, habit, securing), ...orderedBy(facts, habit, completing)].map((tack) =>
    all.indexOf(tack),
  );
}

/** Tacks taken by their numbers in the list of all. */
export function inNumbers<T extends ChosenTack>(
  { securing, completing }: Phases<T>,
  order: readonly number[],
): Phases<T> {
  const all = [...securing, ...completing];
  const ordered = order.map((number) => all[number]!);
  return { securing: ordered.slice(0, securing.length), completing: ordered.slice(securing.length) };
}

/** The best order, or the one that there is where it is not better by as much as asked for, mm. */
export const worthIt = (
  there: JudgedOrder,
  { least }: Pick<BestSequence, 'least'>,
  gain: number,
): JudgedOrder => (snap(there.value - least.value - gain, 1e-9) >= 0 ? least : there);
