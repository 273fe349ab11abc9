import { analyticCentre, roomAlong } from './analytic-centre.js';
import { BarrierMetric, inEquations, underCaps } from './barrier-metric.js';
import { insideOf, type Inside } from './inside.js';
import type { Packed } from './linear-program-packed.js';

/** Equations count as kept when they miss by no more than this, in their own unit: as the engine of linear programs has it. */
const KEPT_WITHIN = 1e-9;
/** Times that what rounding leaves of a miss is made up for. */
const CORRECTIONS = 4;
/** Share of a reach that is given away: a miss within the tolerance is made up for in the room that this leaves. */
const GIVEN_AWAY = 1e-6;
/**
 * A reach that is wanted to be more than so many times what it is after the first step, the second and so on is not
 * worked on (measured: hardly any gets there). More steps than these cost more than a linear program.
 */
const HOPE = [4.6, 2, 1.5] as const;
/** Share of the way to the nearest bound that a step goes when another one follows. */
const SHORT_OF_BOUND = 0.7;

function greatest(list: Float64Array): number {
  let most = 0;
  for (let i = 0; i < list.length; i += 1) most = Math.max(most, Math.abs(list[i]!));
  return most;
}

/** A way along which a fixed column is raised: how far in all, and its last straight piece. */
interface Way {
  readonly length: number;
  readonly at: Float64Array;
  /** The move for each unit of the fixed column, and how many of them; undefined where there is none. */
  readonly last: { readonly move: Float64Array; readonly length: number } | undefined;
}

/** Where a way ends: how far the fixed column has been raised, and what the columns of the program that are not fixed are. */
export interface Reached {
  readonly length: number;
  readonly values: Float64Array;
}

/**
 * A point well inside the bounds of a program, its equations kept, and how far from there a fixed column may be raised at
 * least. That the bounds are sound does not depend on how they are found: each is the length of a way on which every
 * equation, bound and cap has been looked at.
 */
export class InnerPoint {
  private constructor(
    private readonly inside: Inside,
    private readonly at: Float64Array,
    private readonly metric: BarrierMetric,
  ) {}

  /** Undefined where no such point is found, and nothing can be told. */
  static of(program: Packed): InnerPoint | undefined {
    const inside = insideOf(program);
    const centre = analyticCentre(inside);
    if (centre === undefined) return undefined;
    const metric = metricAt(inside, centre);
    if (!metric.sound) return undefined;
    const off = inside.right.map((value) => -value);
    const at = corrected(inside, metric, centre, off);
    if (at === undefined || !isInside(inside, at)) return undefined;
    return new InnerPoint(inside, at, metric);
  }

  /**
   * By how much a fixed column may be raised: at least so much, zero where nothing is found. Where the way straight from the
   * middle ends before what is wanted, it is bent at a few points, seen from which other bounds are near.
   */
  reach(column: number, wanted = 0): number {
    return this.way(column, wanted).length;
  }

  /** The same with the columns there, those that are fixed being zero: a witness of the bound. */
  reached(column: number, wanted = 0): Reached {
    const { length, at, last } = this.way(column, wanted);
    const end = last === undefined ? at : moved(at, last.move, last.length);
    const values = Float64Array.from(this.inside.place, (place) => (place < 0 ? 0 : end[place]!));
    return { length, values };
  }

  private way(column: number, wanted: number): Way {
    const { inside } = this;
    const load = new Float64Array(inside.equations);
    for (const { row, value } of inside.fixed.get(column) ?? []) load[row] = value;
    let { at, metric } = this;
    let gone = 0;
    for (let step = 0; ; step += 1) {
      const move = corrected(inside, metric, metric.answer(load), load);
      const room = move === undefined ? 0 : Math.max(0, roomAlong(inside, at, move) * (1 - GIVEN_AWAY));
      const hope = (HOPE[step] ?? 0) * (gone + room);
      if (move === undefined) return { length: gone, at, last: undefined };
      if (gone + room >= wanted || hope < wanted)
        return { length: gone + room, at, last: { move, length: room } };
      const length = SHORT_OF_BOUND * room;
      at = moved(at, move, length);
      gone += length;
      metric = metricAt(inside, at);
      if (!metric.sound) return { length: gone, at, last: undefined };
    }
  }
}

function moved(at: Float64Array, move: Float64Array, share: number): Float64Array {
  const there = at.slice();
  for (let j = 0; j < there.length; j += 1) there[j]! += share * move[j]!;
  return there;
}

function metricAt(inside: Inside, at: Float64Array): BarrierMetric {
  const { lower, upper, limits } = inside;
  const stretch = new Float64Array(at.length);
  for (let j = 0; j < at.length; j += 1) {
    const [low, high] = [at[j]! - lower[j]!, upper[j]! - at[j]!];
    stretch[j] = 1 / (1 / (low * low) + 1 / (high * high));
  }
  const press = underCaps(inside, at).map((sum, cap) => 1 / (limits[cap]! - sum) ** 2);
  return new BarrierMetric(inside, stretch, press);
}

/** Columns of which the equations make the opposite of these numbers; undefined where they are missed. */
function corrected(
  inside: Inside,
  metric: BarrierMetric,
  columns: Float64Array,
  sums: Float64Array,
): Float64Array | undefined {
  let found = columns;
  for (let turn = 0; turn <= CORRECTIONS; turn += 1) {
    const miss = inEquations(inside, found, sums);
    if (greatest(miss) <= KEPT_WITHIN) return found;
    const more = metric.answer(miss);
    found = moved(found, more, 1);
  }
  return undefined;
}

function isInside(inside: Inside, at: Float64Array): boolean {
  const { lower, upper, limits } = inside;
  return (
    at.every((value, j) => value > lower[j]! && value < upper[j]!) &&
    underCaps(inside, at).every((sum, cap) => sum < limits[cap]!)
  );
}
