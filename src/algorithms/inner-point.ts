import { analyticCentre, roomAlong } from './analytic-centre.js';
import { BarrierMetric, inEquations, underCaps } from './barrier-metric.js';
import { insideOf, type Inside } from './inside.js';
import type { Program } from './linear-program-shape.js';

/** Equations count as kept when they miss by no more than this, in their own unit: as the engine of linear programs has it. */
const KEPT_WITHIN = 1e-9;
/** Times that what rounding leaves of a miss is made up for. */
const CORRECTIONS = 4;
/** Share of a reach that is given away: a miss within the tolerance is made up for in the room that this leaves. */
const GIVEN_AWAY = 1e-6;

const greatest = (list: Float64Array): number =>
  list.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

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
  static of(program: Program): InnerPoint | undefined {
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

  /** By how much a fixed column may be raised: at least so much, zero where nothing is found. */
  reach(column: number): number {
    const { inside, metric, at } = this;
    const load = new Float64Array(inside.equations);
    for (const { row, value } of inside.fixed.get(column) ?? []) load[row] = value;
    const move = corrected(inside, metric, metric.answer(load), load);
    return move === undefined ? 0 : Math.max(0, roomAlong(inside, at, move) * (1 - GIVEN_AWAY));
  }
}

function metricAt(inside: Inside, at: Float64Array): BarrierMetric {
  const { lower, upper, limits } = inside;
  const used = underCaps(inside, at);
  return new BarrierMetric(
    inside,
    at.map((value, j) => 1 / (1 / (value - lower[j]!) ** 2 + 1 / (upper[j]! - value) ** 2)),
    used.map((sum, cap) => 1 / (limits[cap]! - sum) ** 2),
  );
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
    found = found.map((value, j) => value + more[j]!);
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
