import { IDENTITY } from '../geometry/pose.js';
import { solidsOverlap } from '../geometry/separation.js';
import type { Solid } from '../geometry/solid.js';
import { sweepHits } from '../geometry/sweep.js';
import { negate } from '../geometry/vector.js';
import type { Gripper } from '../model/cell.js';
import { gripperSolid, padsInCell, type GripPlace } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Part } from '../model/weldment.js';

/** A gripper that meets the part it holds, in place or drawn straight back: the other leg of an angle, a flange. */
export function ownPartRefusal(
  part: Part,
  solid: Solid,
  grip: GripPlace,
  gripper: Gripper,
  settings: Settings,
): Refusal | undefined {
  const { 'touch-tolerance': tolerance, 'approach-distance': drawBack } = settings.motion;
  const envelope = gripperSolid(part.shape, IDENTITY, grip, gripper);
  const away = negate(padsInCell(part.shape, IDENTITY, grip, gripper).into);
  if (!solidsOverlap(envelope, solid, tolerance) && !sweepHits(envelope, away, drawBack, solid, tolerance))
    return undefined;
  return { code: 'gripper-in-part', subjects: [part.id, gripper.id, grip.face] };
}
