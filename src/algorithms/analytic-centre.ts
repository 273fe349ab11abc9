import { BarrierMetric, inEquations, underCaps } from './barrier-metric.js';
import type { Inside } from './inside.js';

/** Steps after which no centre is looked for any longer; three to eight do. */
const MOST_STEPS = 30;
/** Share of the way to the nearest bound that a step goes at most. */
const SHORT_OF_BOUND = 0.9;
/** A whole step by which no column moves more than this share of its room ends near enough to the centre. */
const NEAR = 0.5;

/** How often a move can be made from a point before a bound or a cap is met. */
export function roomAlong(inside: Inside, at: Float64Array, move: Float64Array): number {
  const { lower, upper, limits } = inside;
  let most = Infinity;
  for (let j = 0; j < at.length; j += 1) {
    const step = move[j]!;
    if (step < 0) most = Math.min(most, (lower[j]! - at[j]!) / step);
    else if (step > 0) most = Math.min(most, (upper[j]! - at[j]!) / step);
  }
  const [used, growth] = [underCaps(inside, at), underCaps(inside, move)];
  for (let cap = 0; cap < limits.length; cap += 1)
    if (growth[cap]! > 0) most = Math.min(most, (limits[cap]! - used[cap]!) / growth[cap]!);
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
  readonly duals: Float64Array;

  constructor(readonly rooms: Float64Array) {
    this.duals = rooms.map((room) => 1 / room);
  }

  /** By how much the duals change when the rooms grow so. */
  change(growth: Float64Array): Float64Array {
    const { rooms, duals } = this;
    return duals.map((dual, i) => (dual === 0 ? 0 : (1 - dual * growth[i]!) / rooms[i]! - dual));
  }

  /** The greatest share of a room that is lost or won. */
  unrest(growth: Float64Array): number {
    let most = 0;
    for (let i = 0; i < growth.length; i += 1) most = Math.max(most, Math.abs(growth[i]!) / this.rooms[i]!);
    return most;
  }
}

class Walk {
  readonly at: Float64Array;
  private readonly low: Side;
  private readonly high: Side;
  private readonly under: Side;

  constructor(private readonly inside: Inside) {
    this.at = startOf(inside);
    this.low = new Side(new Float64Array(inside.columns));
    this.high = new Side(new Float64Array(inside.columns));
    this.under = new Side(new Float64Array(inside.limits.length));
    this.measure();
    for (const side of this.sides) side.duals.set(side.rooms.map((room) => 1 / room));
  }

  /** One step; whether it ended near the centre, or undefined when there is more to go. */
  step(): boolean | undefined {
    const { inside, at } = this;
    const metric = new BarrierMetric(inside, this.stretch(), this.ratios(this.under));
    if (!metric.sound) return false;
    const surplus = inEquations(
      inside,
      at,
      inside.right.map((value) => -value),
    );
    const move = metric.step(this.gradient(), surplus);
    const growths = [move, move.map((value) => -value), underCaps(inside, move).map((value) => -value)];
    const room = roomAlong(inside, at, move);
    if (Number.isNaN(room)) return false;
    const share = Math.min(1, SHORT_OF_BOUND * room);
    const near = share === 1 && this.sides.every((side, i) => side.unrest(growths[i]!) <= NEAR);
    this.changeDuals(growths);
    for (let j = 0; j < at.length; j += 1) at[j]! += share * move[j]!;
    this.measure();
    return near ? true : undefined;
  }

  private get sides(): readonly [Side, Side, Side] {
    return [this.low, this.high, this.under];
  }

  private measure(): void {
    const { inside, at } = this;
    const used = underCaps(inside, at);
    this.low.rooms.set(at.map((value, j) => value - inside.lower[j]!));
    this.high.rooms.set(at.map((value, j) => inside.upper[j]! - value));
    this.under.rooms.set(used.map((sum, cap) => inside.limits[cap]! - sum));
  }

  private ratios({ rooms, duals }: Side): Float64Array {
    return rooms.map((room, i) => duals[i]! / room);
  }

  private stretch(): Float64Array {
    const [low, high] = [this.ratios(this.low), this.ratios(this.high)];
    return low.map((ratio, j) => 1 / (ratio + high[j]!));
  }

  /** Slope of the barrier, and of what draws a column without a bound back. */
  private gradient(): Float64Array {
    const { inside, low, high, under } = this;
    return low.rooms.map((room, j) => {
      const cap = inside.cap[j]!;
      const pushed = 1 / high.rooms[j]! - 1 / room;
      if (cap >= 0) return pushed + 1 / under.rooms[cap]!;
      if (high.rooms[j] === Infinity) return pushed + 1 / inside.scale;
      return room === Infinity ? pushed - 1 / inside.scale : pushed;
    });
  }

  private changeDuals(growths: readonly Float64Array[]): void {
    const changes = this.sides.map((side, i) => side.change(growths[i]!));
    let share = 1;
    this.sides.forEach(({ duals }, i) =>
      changes[i]!.forEach((change, k) => {
        if (change < 0) share = Math.min(share, (-SHORT_OF_BOUND * duals[k]!) / change);
      }),
    );
    this.sides.forEach(({ duals }, i) => {
      changes[i]!.forEach((change, k) => {
        duals[k]! += share * change;
      });
    });
  }
}

/** Where the walk begins: inside of bounds and caps, whatever the equations say. */
function startOf({ columns, lower, upper, cap, capStarts, limits, scale }: Inside): Float64Array {
  return Float64Array.from({ length: columns }, (_, j) => {
    const [low, high, own] = [lower[j]!, upper[j]!, cap[j]!];
    if (own >= 0) return low + limits[own]! / (capStarts[own + 1]! - capStarts[own]! + 1);
    if (low === -Infinity) return high - scale;
    return high === Infinity ? low + scale : (low + high) / 2;
  });
}
