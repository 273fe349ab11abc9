import type { Arm, Joints, Six, SixRow } from './arm.js';

/**
 * Seconds to cover `distance` from rest to rest with a trapezoidal speed profile, or a triangular one when the
 * way is too short to get up to speed: d/v + v/a for d >= v^2/a, else 2 sqrt(d/a) (elementary kinematics).
 * Distance, speed and acceleration share one length or angle unit; the last two are positive.
 */
export function profileTime(distance: number, speed: number, acceleration: number): number {
  const way = Math.abs(distance);
  return way >= (speed * speed) / acceleration
    ? way / speed + speed / acceleration
    : 2 * Math.sqrt(way / acceleration);
}

/** Seconds for a move of all joints at once (radians): the time of the slowest joint. */
export function travelTime(arm: Arm, from: Joints, to: Joints): number {
  let slowest = 0;
  for (let i = 0; i < 6; i += 1)
    slowest = Math.max(slowest, profileTime(to[i]! - from[i]!, arm.speeds[i]!, arm.accelerations[i]!));
  return slowest;
}

/** Seconds for a straight move of the flange: mm, mm/s and mm/s2. */
export const straightTime = (distance: number, speed: number, acceleration: number): number =>
  profileTime(distance, speed, acceleration);

/**
 * Seconds for a straight move of `length` mm at no more than `speed` (mm/s) and `acceleration` (mm/s2) in which no
 * joint exceeds its own speed and acceleration. `samples` are the joints (radians) at even fractions of the way, both
 * ends included.
 *
 * With u the share of the way covered, joint j turns by q_j(u). Over the samples, R_j is the largest |dq_j/du| (first
 * differences) and B_j the largest |d2q_j/du2| (second differences). From dq/dt = q' u' and d2q/dt2 = q'' u'^2 + q' u''
 * (chain rule) follows a trapezoid in u that keeps every joint within its speed S_j and acceleration A_j:
 *
 * - cruising at v = min(speed/length, S_j/R_j, sqrt(A_j/(2 B_j))): bending takes at most half of A_j;
 * - getting up to speed at a = min(acceleration/length, (A_j - B_j v^2)/R_j): what bending leaves of it.
 *
 * One cruising speed for the whole way and both terms at their worst at once make this a conservative time, never below
 * `straightTime`; what happens between two samples is not looked at.
 */
export function straightMoveTime(
  arm: Arm,
  samples: readonly Joints[],
  length: number,
  speed: number,
  acceleration: number,
): number {
  const { rates, bends } = slopes(samples);
  // In mm, so that a way on which no joint is the slowest takes `straightTime` to the last bit; turning on the spot in u.
  const way = length > 0 ? length : 1;
  let cruising = length > 0 ? speed : Infinity;
  for (let j = 0; j < 6; j += 1)
    cruising = Math.min(
      cruising,
      (way * arm.speeds[j]!) / rates[j]!,
      way * Math.sqrt(arm.accelerations[j]! / (2 * bends[j]!)),
    );
  let gaining = length > 0 ? acceleration : Infinity;
  for (let j = 0; j < 6; j += 1) {
    const bending = bends[j] === 0 ? 0 : bends[j]! * (cruising / way) ** 2;
    gaining = Math.min(gaining, (way * (arm.accelerations[j]! - bending)) / rates[j]!);
  }
  return Number.isFinite(cruising) ? profileTime(way, cruising, gaining) : 0;
}

/** The largest first and second derivatives of each joint by the share of the way, from samples at even shares. */
function slopes(samples: readonly Joints[]): { readonly rates: Six<number>; readonly bends: Six<number> } {
  const intervals = samples.length - 1;
  const rates: SixRow = [0, 0, 0, 0, 0, 0];
  const bends: SixRow = [0, 0, 0, 0, 0, 0];
  for (let j = 0; j < 6; j += 1) {
    let [first, second] = [0, 0];
    let before = NaN;
    for (let i = 1; i < samples.length; i += 1) {
      const step = samples[i]![j]! - samples[i - 1]![j]!;
      first = Math.max(first, Math.abs(step));
      if (i > 1) second = Math.max(second, Math.abs(step - before));
      before = step;
    }
    rates[j] = intervals * first;
    bends[j] = intervals ** 2 * second;
  }
  return { rates, bends };
}
