import { CapsuleGeometry, type BufferGeometry } from 'three';
import { perpendicular, cross, distance, subtract, unit, type Vec3 } from '../../../geometry/vector.js';
import { fromAxes, NO_TURN, type Pose } from '../../../geometry/pose.js';

/** A capsule whose line runs from the origin up z, mm. */
export function capsule(radius: number, size: number): BufferGeometry {
  const made = new CapsuleGeometry(radius, size, 4, 16);
  made.rotateX(Math.PI / 2);
  made.translate(0, 0, size / 2);
  return made;
}

/** A pose at one point whose z axis points at another. */
export function poseToward(from: Vec3, to: Vec3): Pose {
  if (distance(from, to) < 1e-9) return { at: from, turn: NO_TURN };
  const z = unit(subtract(to, from));
  const x = perpendicular(z);
  return { at: from, turn: fromAxes(x, cross(z, x), z) };
}
