import { analyticCentre, roomAlong } from './analytic-centre.js';
import { addEquations, BarrierMetric, underCaps } from './barrier-metric.js';
import { insideOf, type Inside } from './inside.js';
import type { Packed } from './linear-program-shape.js';

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

/** A straight piece of a way: the move for each unit of the fixed column, and how many of them there is room for. */
interface Piece {
  readonly move: Float64Array;
  readonly room: number;
}

/** A way along which a fixed column is raised: how far in all, and its last piece; undefined where there is none. */
interface Way {
  readonly length: number;
  readonly at: Float64Array;
  readonly last: Piece | undefined;
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
  private readonly metric: BarrierMetric;
  /** First pieces of ways, straight from the middle: the same whatever is wanted. */
  private readonly straight = new Map<number, Piece | undefined>();
  private readonly load: Float64Array;
  private readonly miss: Float64Array;
  private readonly correction: Float64Array;
  /** Of the way that is being bent: where it is, the metric there, and its next move. */
  private bent:
    { readonly at: Float64Array; readonly metric: BarrierMetric; readonly move: Float64Array } | undefined;

  private constructor(
    private readonly inside: Inside,
    private readonly at: Float64Array,
  ) {
    this.metric = new BarrierMetric(inside);
    this.load = new Float64Array(inside.equations);
    this.miss = new Float64Array(inside.equations);
    this.correction = new Float64Array(inside.columns);
  }

  /** Undefined where no such point is found, and nothing can be told. */
  static of(program: Packed): InnerPoint | undefined {
    const inside = insideOf(program);
    const centre = analyticCentre(inside);
    if (centre === undefined) return undefined;
    const point = new InnerPoint(inside, centre);
    return point.settle() ? point : undefined;
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
    const end = at.slice();
    if (last !== undefined) advance(end, last.move, last.room);
    return { length, values: this.inProgram(end) };
  }

  /** The columns of the program at the point, those that are fixed being zero. */
  values(): Float64Array {
    return this.inProgram(this.at);
  }

  private inProgram(columns: Float64Array): Float64Array {
    const { place } = this.inside;
    const values = new Float64Array(place.length);
    for (let j = 0; j < place.length; j += 1) if (place[j]! >= 0) values[j] = columns[place[j]!]!;
    return values;
  }

  /** Makes the middle keep the equations; whether it is then inside of all bounds. */
  private settle(): boolean {
    const { inside, at, metric } = this;
    if (!settleAt(metric, inside, at)) return false;
    const off = inside.right.map((value) => -value);
    return this.correct(metric, at, off) && isInside(inside, at);
  }

  private way(column: number, wanted: number): Way {
    let { at } = this;
    let gone = 0;
    let piece = this.firstPiece(column);
    for (let step = 0; ; step += 1) {
      if (piece === undefined) return { length: gone, at, last: undefined };
      const reach = gone + piece.room;
      if (reach >= wanted || (HOPE[step] ?? 0) * reach < wanted) return { length: reach, at, last: piece };
      const length = SHORT_OF_BOUND * piece.room;
      const bent = this.bend(at);
      advance(bent.at, piece.move, length);
      at = bent.at;
      gone += length;
      if (!settleAt(bent.metric, this.inside, at)) return { length: gone, at, last: undefined };
      piece = this.piece(column, at, bent.metric, bent.move);
    }
  }

  private firstPiece(column: number): Piece | undefined {
    if (!this.straight.has(column)) {
      const move = new Float64Array(this.inside.columns);
      this.straight.set(column, this.piece(column, this.at, this.metric, move));
    }
    return this.straight.get(column);
  }

  /** The piece of a way that goes on straight from a point, its move put in a list; undefined where there is none. */
  private piece(
    column: number,
    at: Float64Array,
    metric: BarrierMetric,
    move: Float64Array,
  ): Piece | undefined {
    const { inside, load } = this;
    load.fill(0);
    for (const { row, value } of inside.fixed.get(column) ?? []) load[row] = value;
    metric.answer(load, move);
    if (!this.correct(metric, move, load)) return undefined;
    return { move, room: Math.max(0, roomAlong(inside, at, move) * (1 - GIVEN_AWAY)) };
  }

  /** What a bent way is worked out with, at a point that may be its own. */
  private bend(at: Float64Array): NonNullable<InnerPoint['bent']> {
    const { inside } = this;
    this.bent ??= {
      at: new Float64Array(inside.columns),
      metric: new BarrierMetric(inside),
      move: new Float64Array(inside.columns),
    };
    this.bent.at.set(at);
    return this.bent;
  }

  /** Changes columns so that the equations make the opposite of these numbers of them; false where they are missed. */
  private correct(metric: BarrierMetric, columns: Float64Array, sums: Float64Array): boolean {
    const { inside, miss, correction } = this;
    for (let turn = 0; turn <= CORRECTIONS; turn += 1) {
      miss.set(sums);
      addEquations(inside, columns, miss);
      if (greatest(miss) <= KEPT_WITHIN) return true;
      metric.answer(miss, correction);
      advance(columns, correction, 1);
    }
    return false;
  }
}

/** Moves a point in its place. */
function advance(at: Float64Array, move: Float64Array, share: number): void {
  for (let j = 0; j < at.length; j += 1) at[j]! += share * move[j]!;
}

/** Makes a metric that at a point; whether the equations could be factorised. */
function settleAt(metric: BarrierMetric, inside: Inside, at: Float64Array): boolean {
  const { lower, upper, limits } = inside;
  const { stretch, press } = metric;
  for (let j = 0; j < at.length; j += 1) {
    const low = at[j]! - lower[j]!;
    const high = upper[j]! - at[j]!;
    stretch[j] = 1 / (1 / (low * low) + 1 / (high * high));
  }
  underCaps(inside, at, press);
  for (let cap = 0; cap < press.length; cap += 1) press[cap] = 1 / (limits[cap]! - press[cap]!) ** 2;
  return metric.settle();
}

function isInside(inside: Inside, at: Float64Array): boolean {
  const { lower, upper, limits } = inside;
  const sums = new Float64Array(limits.length);
  underCaps(inside, at, sums);
  return (
    at.every((value, j) => value > lower[j]! && value < upper[j]!) &&
    sums.every((sum, cap) => sum < limits[cap]!)
  );
}
