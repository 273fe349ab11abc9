import { IDENTITY } from '../geometry/pose.js';
import type { Solid } from '../geometry/solid.js';
import type { Gripper } from '../model/cell.js';
import type { GripPlace } from '../model/placement.js';
import type { Settings } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import type { Part } from '../model/weldment.js';
import { drawnBack } from './gripper-drawn-back.js';

/** A gripper that meets the part it holds, in place or drawn straight back: the other leg of an angle, a flange. */
export function ownPartRefusal(
  part: Part,
  solid: Solid,
  grip: GripPlace,
  gripper: Gripper,
  settings: Settings,
): Refusal | undefined {
  if (!drawnBack(part.shape, IDENTITY, grip, gripper, settings).meets(solid)) return undefined;
  return { code: 'gripper-in-part', subjects: [part.id, gripper.id, grip.face] };
}
