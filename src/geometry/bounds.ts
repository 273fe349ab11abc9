import type { Vec3 } from './vector.js';

/** An axis-parallel box, millimetres: the cheap first answer before any exact test. */
export interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

/** The least box around the points; there must be at least one. */
export function boundsOf(points: readonly Vec3[]): Bounds {
  const first = points[0];
  if (first === undefined) throw new RangeError('no points have no bounds');
  const low: [number, number, number] = [...first];
  const high: [number, number, number] = [...first];
  for (let i = 1; i < points.length; i += 1) widen(low, high, points[i]!, points[i]!);
  return { low, high };
}

/** The same of points by their flat coordinates. */
export function boundsOfCoordinates(flat: Float64Array): Bounds {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < flat.length; i += 1) {
    low[i % 3] = Math.min(low[i % 3]!, flat[i]!);
    high[i % 3] = Math.max(high[i % 3]!, flat[i]!);
  }
  return { low, high };
}

/** The least box around all the boxes; there must be at least one. */
export function boundsAround(boxes: readonly Bounds[]): Bounds {
  const first = boxes[0];
  if (first === undefined) throw new RangeError('no boxes have no bounds');
  const low: [number, number, number] = [...first.low];
  const high: [number, number, number] = [...first.high];
  for (let i = 1; i < boxes.length; i += 1) widen(low, high, boxes[i]!.low, boxes[i]!.high);
  return { low, high };
}

/** Moves two corners of a box apart, until they are round two others. */
function widen(low: [number, number, number], high: [number, number, number], a: Vec3, b: Vec3): void {
  for (let axis = 0; axis < 3; axis += 1) {
    low[axis] = Math.min(low[axis]!, a[axis]!);
    high[axis] = Math.max(high[axis]!, b[axis]!);
  }
}

/**
 * Whether two boxes share no more than `margin` mm along some axis. A negative margin asks for a real distance:
 * `boundsApart(a, b, -5)` is true when they are at least 5 mm apart along some axis.
 */
export const boundsApart = (a: Bounds, b: Bounds, margin: number): boolean =>
  a.high[0] - b.low[0] <= margin ||
  b.high[0] - a.low[0] <= margin ||
  a.high[1] - b.low[1] <= margin ||
  b.high[1] - a.low[1] <= margin ||
  a.high[2] - b.low[2] <= margin ||
  b.high[2] - a.low[2] <= margin;

/** The same while the first box moves by `direction * travel`: of the least box around everything that it covers. */
export const sweptApart = (
  { low, high }: Bounds,
  direction: Vec3,
  travel: number,
  b: Bounds,
  margin: number,
): boolean =>
  high[0] + Math.max(0, direction[0] * travel) - b.low[0] <= margin ||
  b.high[0] - (low[0] + Math.min(0, direction[0] * travel)) <= margin ||
  high[1] + Math.max(0, direction[1] * travel) - b.low[1] <= margin ||
  b.high[1] - (low[1] + Math.min(0, direction[1] * travel)) <= margin ||
  high[2] + Math.max(0, direction[2] * travel) - b.low[2] <= margin ||
  b.high[2] - (low[2] + Math.min(0, direction[2] * travel)) <= margin;

/** Distance between two boxes in mm, 0 when they touch or overlap: never more than that of their contents. */
export function boundsDistance(a: Bounds, b: Bounds): number {
  const x = Math.max(0, a.low[0] - b.high[0], b.low[0] - a.high[0]);
  const y = Math.max(0, a.low[1] - b.high[1], b.low[1] - a.high[1]);
  const z = Math.max(0, a.low[2] - b.high[2], b.low[2] - a.high[2]);
  return Math.sqrt(x * x + y * y + z * z);
}
