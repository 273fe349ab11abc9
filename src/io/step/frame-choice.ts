import { rounded } from '../../base/order.js';
import type { Rotation } from '../../geometry/pose.js';
import { fromAxes, toRollPitchYaw } from '../../geometry/pose.js';
import type { Vec3 } from '../../geometry/vector.js';
import { cross, length, scale } from '../../geometry/vector.js';

/** Parts of an axis nearer than this to 0 or 1 are taken for it: 0.0002 mm in 2 m. */
const STRAIGHT = 1e-7;
/** Angles nearer than this to a whole degree are taken for it, degrees: 0.0002 mm in 2 m. */
const WHOLE = 1e-5;

/** A turn as a weldment file gives it: roll, pitch, yaw in degrees. */
export type Turn = readonly [number, number, number];

function straightened(axis: Vec3): Vec3 {
  const snapped = axis.map((x) => (Math.abs(x) < STRAIGHT ? 0 : x)) as unknown as Vec3;
  return scale(snapped, 1 / length(snapped));
}

/** The turn of a frame with x and y along the given axes, to 6 decimals of a degree. */
function turnOfAxes([x, y]: readonly [Vec3, Vec3]): Turn {
  const first = straightened(x);
  const third = straightened(cross(first, y));
  const turn: Rotation = fromAxes(first, straightened(cross(third, first)), third);
  const degrees = toRollPitchYaw(turn).map((angle) => {
    const whole = Math.abs(angle - Math.round(angle)) < WHOLE ? Math.round(angle) : angle;
    return rounded(whole <= -180 ? whole + 360 : whole, 6);
  });
  return degrees as unknown as Turn;
}

/** How far a turn is from none: angles that are not 0, their sum, and negative ones last. */
const effort = (turn: Turn): readonly number[] => [
  turn.filter((angle) => angle !== 0).length,
  rounded(
    turn.reduce((sum, angle) => sum + Math.abs(angle), 0),
    4,
  ),
  ...turn.map((angle) => -angle),
];

export interface Framed<T> {
  readonly choice: T;
  readonly turn: Turn;
}

/**
 * Of frames that describe one shape equally well, each by its x and y axes, the one with the plainest turn: the fewest
 * angles, then the smallest.
 */
export function plainest<T>(choices: readonly (readonly [Vec3, Vec3, T])[]): Framed<T> {
  const framed = choices.map(([x, y, choice]) => ({ choice, turn: turnOfAxes([x, y]) }));
  return framed.reduce((best, one) => (plainer(one.turn, best.turn) ? one : best));
}

function plainer(a: Turn, b: Turn): boolean {
  const [p, q] = [effort(a), effort(b)];
  const at = p.findIndex((value, i) => value !== q[i]);
  return at >= 0 && p[at]! < q[at]!;
}
