import type { Point2 } from '../../geometry/outline.js';
import type { Vec3 } from '../../geometry/vector.js';
import { add, scale } from '../../geometry/vector.js';
import type { Extrusion } from './extrusion.js';

/** A direction in a section as one in the file. */
export const directionIn = ({ axes }: Extrusion, [u, v]: Point2): Vec3 =>
  add(scale(axes.u, u), scale(axes.v, v));

/** A point of a section as one in the file, half-way between the ends. */
export const pointIn = (extrusion: Extrusion, point: Point2): Vec3 => {
  const { axes, ends } = extrusion;
  return add(directionIn(extrusion, point), scale(axes.d, (ends[0] + ends[1]) / 2));
};

export const lengthOf = ({ ends }: Extrusion): number => ends[1] - ends[0];
