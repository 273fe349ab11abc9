import type { Vec3 } from '../../../geometry/vector.js';

export type Axis = 'x' | 'y' | 'z';

/** A cut through the view: what lies beyond the plane in the cut direction is left out. */
export interface SectionPlane {
  readonly axis: Axis;
  /** From 0 to 1 of the room that the weldment takes. */
  readonly at: number;
  /** Whether the lower side is left out instead of the upper one. */
  readonly flipped: boolean;
}

/** Least and greatest corner of a room, mm. */
export interface Room {
  readonly low: Vec3;
  readonly high: Vec3;
}

const PLACES = { x: 0, y: 1, z: 2 } as const;

/** Where along its axis the plane is, mm. */
export const planeAt = ({ axis, at }: SectionPlane, { low, high }: Room): number =>
  low[PLACES[axis]] + (high[PLACES[axis]] - low[PLACES[axis]]) * at;

/** Unit normal and offset, mm: points with `normal . point > offset` are left out. */
export function planeOf(plane: SectionPlane, room: Room): readonly [Vec3, number] {
  const sign = plane.flipped ? -1 : 1;
  const normal: Vec3 = [
    plane.axis === 'x' ? sign : 0,
    plane.axis === 'y' ? sign : 0,
    plane.axis === 'z' ? sign : 0,
  ];
  return [normal, sign * planeAt(plane, room)];
}

/** The room that all points take; undefined where there are none. */
export function roomOf(points: readonly Vec3[]): Room | undefined {
  const first = points[0];
  if (!first) return undefined;
  const [low, high] = [[...first], [...first]] as [[number, number, number], [number, number, number]];
  for (const point of points)
    for (const i of [0, 1, 2] as const) {
      low[i] = Math.min(low[i], point[i]);
      high[i] = Math.max(high[i], point[i]);
    }
  return { low, high };
}

export const cornersOf = ({ low, high }: Room): readonly Vec3[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((k) => [
    (k & 1 ? high : low)[0],
    (k & 2 ? high : low)[1],
    (k & 4 ? high : low)[2],
  ]);
