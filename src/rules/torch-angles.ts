import { cross, dot, type Vec3 } from '../geometry/vector.js';
import { toDegrees } from '../kinematics/arm.js';

/** Angles of a wire off the bisector of a seam's open side, degrees: across the seam and along it. */
export interface TorchAngles {
  readonly work: number;
  readonly travel: number;
}

/**
 * The angles of a wire that feeds along `feed` into a seam along `way` that is open along `open` (unit vectors, `open`
 * square to `way`). The travel angle is that of the wire to the plane square to the seam, the work angle that of its
 * shadow in this plane to the bisector: 180 for a wire that comes from behind.
 */
export function torchAngles(feed: Vec3, way: Vec3, open: Vec3): TorchAngles {
  const travel = Math.asin(Math.min(1, Math.max(-1, dot(feed, way))));
  const work = Math.atan2(dot(feed, cross(way, open)), -dot(feed, open));
  return { work: toDegrees(work), travel: toDegrees(travel) };
}
