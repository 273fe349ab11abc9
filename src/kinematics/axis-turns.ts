import type { Rotation } from '../geometry/pose.js';

/** Rotation by `angle` radians about z. */
export function turnZ(angle: number): Rotation {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [c, -s, 0, s, c, 0, 0, 0, 1];
}

/** Rotation by `angle` radians about y. */
export function turnY(angle: number): Rotation {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [c, 0, s, 0, 1, 0, -s, 0, c];
}
