import { addEquations, BarrierMetric, underCaps } from './barrier-metric.js';
import type { Inside } from './inside.js';

/** Steps after which no centre is looked for any longer; three to eight do. */
const MOST_STEPS = 30;
/** Share of the way to the nearest bound that a step goes at most. */
const SHORT_OF_BOUND = 0.9;
/** A whole step by which no column moves more than this share of its room ends near enough to the centre. */
const NEAR = 0.5;

/** How often a move can be made from a point before a bound or a cap is met. */
export function roomAlong(inside: Inside, at: Float64Array, move: Float64Array): number {
  const { lower, upper, limits, capStarts, capped } = inside;
  let most = Infinity;
  for (let j = 0; j < at.length; j += 1) {
    const step = move[j]!;
    if (step < 0) most = Math.min(most, (lower[j]! - at[j]!) / step);
    else if (step > 0) most = Math.min(most, (upper[j]! - at[j]!) / step);
  }
  for (let cap = 0; cap < limits.length; cap += 1) {
    const end = capStarts[cap + 1]!;
    let [used, growth] = [0, 0];
    for (let c = capStarts[cap]!; c < end; c += 1) {
      used += at[capped[c]!]!;
      growth += move[capped[c]!]!;
    }
    if (growth > 0) most = Math.min(most, (limits[cap]! - used) / growth);
  }
  return most;
}

/**
 * A point near the analytic centre of an inside, its equations kept up to rounding: far from all bounds at once, a column
 * without a bound being drawn back to the scale. Found by primal-dual steps (Mehrotra 1992) toward the point at which each
 * room times its dual is one. Undefined where none is found: then there may be no point that is off its bounds.
 */
export function analyticCentre(inside: Inside): Float64Array | undefined {
  const walk = new Walk(inside);
  for (let step = 1; step <= MOST_STEPS; step += 1) {
    const done = walk.step();
    if (done !== undefined) return done ? walk.at : undefined;
  }
  return undefined;
}

/** Rooms of a side: to the lower bounds, to the upper ones, or under the caps, with their duals. */
class Side {
  readonly rooms: Float64Array;
  readonly duals: Float64Array;
  /** By how much the rooms, and with them the duals, change in the step that is being made. */
  readonly growth: Float64Array;
  private readonly changes: Float64Array;

  constructor(size: number) {
    this.rooms = new Float64Array(size);
    this.duals = new Float64Array(size);
    this.growth = new Float64Array(size);
    this.changes = new Float64Array(size);
  }

  /** Duals of which each is one by its room. */
  balance(): void {
    for (let i = 0; i < this.rooms.length; i += 1) this.duals[i] = 1 / this.rooms[i]!;
  }

  /** Takes what a step adds to the rooms: a number for each, with a sign. */
  grow(step: Float64Array, sign: 1 | -1): void {
    for (let i = 0; i < step.length; i += 1) this.growth[i] = sign * step[i]!;
  }

  /** The greatest share of a room that is lost or won. */
  get unrest(): number {
    const { rooms, growth } = this;
    let most = 0;
    for (let i = 0; i < growth.length; i += 1) most = Math.max(most, Math.abs(growth[i]!) / rooms[i]!);
    return most;
  }

  /** Works out how the duals change; by which share they can do so at most. */
  dualShare(): number {
    const { rooms, duals, growth, changes } = this;
    let share = 1;
    for (let i = 0; i < duals.length; i += 1) {
      const dual = duals[i]!;
      const change = dual === 0 ? 0 : (1 - dual * growth[i]!) / rooms[i]! - dual;
      changes[i] = change;
      if (change < 0) share = Math.min(share, (-SHORT_OF_BOUND * dual) / change);
    }
    return share;
  }

  changeDuals(share: number): void {
    for (let i = 0; i < this.duals.length; i += 1) this.duals[i]! += share * this.changes[i]!;
  }
}

class Walk {
  readonly at: Float64Array;
  private readonly low: Side;
  private readonly high: Side;
  private readonly under: Side;
  private readonly metric: BarrierMetric;
  private readonly gradient: Float64Array;
  private readonly move: Float64Array;
  private readonly surplus: Float64Array;
  private readonly capSums: Float64Array;

  constructor(private readonly inside: Inside) {
    const { columns, equations, limits } = inside;
    this.at = startOf(inside);
    this.low = new Side(columns);
    this.high = new Side(columns);
    this.under = new Side(limits.length);
    this.metric = new BarrierMetric(inside);
    this.gradient = new Float64Array(columns);
    this.move = new Float64Array(columns);
    this.surplus = new Float64Array(equations);
    this.capSums = new Float64Array(limits.length);
    this.measure();
    for (const side of this.sides) side.balance();
  }

  /** One step; whether it ended near the centre, or undefined when there is more to go. */
  step(): boolean | undefined {
    const { inside, at, move, surplus, sides } = this;
    this.fillMetric();
    if (!this.metric.settle()) return false;
    for (let i = 0; i < surplus.length; i += 1) surplus[i] = -inside.right[i]!;
    addEquations(inside, at, surplus);
    this.fillGradient();
    this.metric.step(this.gradient, surplus, move);
    const room = roomAlong(inside, at, move);
    if (Number.isNaN(room)) return false;
    const share = Math.min(1, SHORT_OF_BOUND * room);
    this.growRooms();
    const near = share === 1 && sides.every(({ unrest }) => unrest <= NEAR);
    const dualShare = Math.min(...sides.map((side) => side.dualShare()));
    for (const side of sides) side.changeDuals(dualShare);
    for (let j = 0; j < at.length; j += 1) at[j]! += share * move[j]!;
    this.measure();
    return near ? true : undefined;
  }

  private get sides(): readonly [Side, Side, Side] {
    return [this.low, this.high, this.under];
  }

  private measure(): void {
    const { inside, at, capSums } = this;
    const { lower, upper, limits } = inside;
    const [low, high, under] = [this.low.rooms, this.high.rooms, this.under.rooms];
    for (let j = 0; j < at.length; j += 1) {
      low[j] = at[j]! - lower[j]!;
      high[j] = upper[j]! - at[j]!;
    }
    underCaps(inside, at, capSums);
    for (let cap = 0; cap < limits.length; cap += 1) under[cap] = limits[cap]! - capSums[cap]!;
  }

  private growRooms(): void {
    underCaps(this.inside, this.move, this.capSums);
    this.low.grow(this.move, 1);
    this.high.grow(this.move, -1);
    this.under.grow(this.capSums, -1);
  }

  private fillMetric(): void {
    const { low, high, under } = this;
    const { stretch, press } = this.metric;
    for (let j = 0; j < stretch.length; j += 1)
      stretch[j] = 1 / (low.duals[j]! / low.rooms[j]! + high.duals[j]! / high.rooms[j]!);
    for (let cap = 0; cap < press.length; cap += 1) press[cap] = under.duals[cap]! / under.rooms[cap]!;
  }

  /** Slope of the barrier, and of what draws a column without a bound back. */
  private fillGradient(): void {
    const { inside, gradient } = this;
    const [low, high, under] = [this.low.rooms, this.high.rooms, this.under.rooms];
    for (let j = 0; j < gradient.length; j += 1) {
      const cap = inside.cap[j]!;
      const pushed = 1 / high[j]! - 1 / low[j]!;
      if (cap >= 0) gradient[j] = pushed + 1 / under[cap]!;
      else if (high[j] === Infinity) gradient[j] = pushed + 1 / inside.scale;
      else gradient[j] = low[j] === Infinity ? pushed - 1 / inside.scale : pushed;
    }
  }
}

/** Where the walk begins: inside of bounds and caps, whatever the equations say. */
function startOf({ columns, lower, upper, cap, capStarts, limits, scale }: Inside): Float64Array {
  const start = new Float64Array(columns);
  for (let j = 0; j < columns; j += 1) {
    const [low, high, own] = [lower[j]!, upper[j]!, cap[j]!];
    if (own >= 0) start[j] = low + limits[own]! / (capStarts[own + 1]! - capStarts[own]! + 1);
    else if (low === -Infinity) start[j] = high - scale;
    else start[j] = high === Infinity ? low + scale : (low + high) / 2;
  }
  return start;
}
