import { rounded } from '../../base/order.js';
import type { Vec3 } from '../../geometry/vector.js';

/** A size as it is written: to a tenth of a micrometre, which takes away what reckoning left. */
export const mm = (value: number): number => rounded(value, 4);

export const mmPoint = (point: Vec3): Vec3 => [mm(point[0]), mm(point[1]), mm(point[2])];
