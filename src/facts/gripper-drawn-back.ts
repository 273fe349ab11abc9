import type { Pose } from '../geometry/pose.js';
import { solidsOverlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate } from '../geometry/vector.js';
import type { Gripper } from '../model/cell.js';
import { gripperSolid, padsInCell, type GripPlace } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import type { Shape } from '../model/shape.js';

/** A gripper that sits on a part, and what it meets there or while it is drawn straight back. */
export interface DrawnBack {
  readonly solid: Solid;
  readonly meets: (other: Solid) => boolean;
}

/** The gripper at a grip on a part at a pose; others are taken in the frame of that pose's parent. */
export function drawnBack(
  shape: Shape,
  pose: Pose,
  grip: GripPlace,
  gripper: Gripper,
  { motion }: Settings,
): DrawnBack {
  const { 'touch-tolerance': tolerance, 'approach-distance': travel } = motion;
  const solid = gripperSolid(shape, pose, grip, gripper);
  const away = negate(padsInCell(shape, pose, grip, gripper).into);
  return {
    solid,
    meets: (other) =>
      solidsOverlap(solid, other, tolerance) || sweepHits(solid, away, travel, other, tolerance),
  };
}
