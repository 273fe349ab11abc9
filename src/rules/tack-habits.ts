import { snap } from '../base/order.js';
import { dot, type Vec3 } from '../geometry/vector.js';
import type { TackHabit } from '../model/tack-habit.js';

/** A tack as a habit sees it. */
export interface HabitTack {
  /** Id of its seam. */
  readonly seam: string;
  /** Its middle, mm. */
  readonly at: Vec3;
  /** Unit, along the seam. */
  readonly along: Vec3;
}

/** Positions 0..n-1: one end, the other, then the middles of what is left. */
function endsFirst(n: number): number[] {
  const order: number[] = [];
  const spans: [number, number][] = [[0, n - 1]];
  if (n > 0) order.push(0);
  if (n > 1) order.push(n - 1);
  for (let span = spans.shift(); span; span = spans.shift()) {
    const [low, high] = span;
    if (high - low < 2) continue;
    const middle = (low + high) >> 1;
    order.push(middle);
    spans.push([low, middle], [middle, high]);
  }
  return order;
}

/** Positions 0..n-1: the middle, then outward on both sides in turn. */
function middleOut(n: number): number[] {
  const middle = (n - 1) >> 1;
  return Array.from({ length: n }, (_, i) => middle + (i % 2 === 1 ? (i + 1) / 2 : -i / 2));
}

/** One from each list in turn, as long as there are any. */
function inTurn<T>(lists: readonly (readonly T[])[]): T[] {
  const longest = Math.max(0, ...lists.map(({ length }) => length));
  return Array.from({ length: longest }, (_, i) => i).flatMap((i) =>
    lists.flatMap((list) => list.slice(i, i + 1)),
  );
}

/** Places that differ by less are abreast, mm. */
const ABREAST = 0.1;

/** The tacks of each seam along it. */
const bySeam = <T extends HabitTack>(seams: readonly string[], tacks: readonly T[]): T[][] =>
  seams
    .map((id) =>
      tacks.filter(({ seam }) => seam === id).sort((p, q) => dot(p.at, p.along) - dot(q.at, q.along)),
    )
    .filter(({ length }) => length > 0);

/** From one end of all to the other, as the first seam runs: what is abreast follows each other, seam by seam. */
function alongAll<T extends HabitTack>(seams: readonly (readonly T[])[]): T[] {
  const way = seams[0]?.[0]?.along ?? [1, 0, 0];
  const antiparallel = (tack: T): boolean => dot(tack.along, way) < 0;
  return inTurn(seams.map((seam) => (seam.some(antiparallel) ? [...seam].reverse() : seam))).sort((p, q) =>
    snap(dot(p.at, way) - dot(q.at, way), ABREAST),
  );
}

/**
 * Tacks in the order of a habit:
 * - `ends-first`: on each seam one end, the other, then halves; from seam to seam in turn;
 * - `seam-by-seam`: one seam after the other, each from its start;
 * - `alternate-sides`: from one end of the part to the other, at each place one side after the other;
 * - `middle-out`: on each seam from the middle to both ends; from seam to seam in turn.
 *
 * `names` are the ids of all seams, as the joints of the plan have them; so they follow each other.
 */
export function inHabit<T extends HabitTack>(
  habit: TackHabit,
  names: readonly string[],
  tacks: readonly T[],
): T[] {
  const seams = bySeam(names, tacks);
  switch (habit) {
    case 'ends-first':
      return inTurn(seams.map((seam) => endsFirst(seam.length).map((i) => seam[i]!)));
    case 'seam-by-seam':
      return seams.flat();
    case 'alternate-sides':
      return alongAll(seams);
    case 'middle-out':
      return inTurn(seams.map((seam) => middleOut(seam.length).map((i) => seam[i]!)));
  }
}
