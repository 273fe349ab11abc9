import { negate, scale, type Vec3 } from '../geometry/vector.js';
import type { Gripper } from '../model/gripper.js';
import { padsInCell, type GripPlace } from '../model/placement.js';
import type { Scene } from '../model/scene.js';
import { pullPerPad } from './pad-pull.js';

/** Force on a part while it is let go, N, and where it acts, mm, cell frame. */
export interface ReleaseForce {
  readonly force: Vec3;
  readonly at: Vec3;
}

/**
 * What a gripper does to a part in its final place as it lets go and leaves along its own axis, one force a pad:
 * - magnet: what is left of the pull after demagnetising goes with it;
 * - vacuum: the blow-off pushes the part away from the cups; without one, what is left of the vacuum goes with it;
 * - jaw: each finger drags the part along the way out while it opens. That one finger may leave before the other and
 *   the part be pushed aside is left out: the fingers lose their force together.
 */
export function releaseForces(
  scene: Scene,
  part: number,
  grip: GripPlace,
  gripper: Gripper,
): readonly ReleaseForce[] {
  const { part: own, pose } = scene.parts[part]!;
  const { pads, into } = padsInCell(own.shape, pose, grip, gripper);
  const force = alongAxis(into, gripper, pullPerPad(scene, part, gripper, grip.face));
  return pads.map(({ at }) => ({ force, at }));
}

function alongAxis(into: Vec3, gripper: Gripper, pull: number): Vec3 {
  if (gripper.kind === 'jaw') return scale(negate(into), gripper.openingDrag);
  if (gripper.kind === 'vacuum' && gripper.blowOff > 0) return scale(into, gripper.blowOff);
  return scale(negate(into), pull * gripper.residual);
}
