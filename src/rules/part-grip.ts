import type { Gripper } from '../model/gripper.js';
import type { GripPlace } from '../model/placement.js';
import type { PlacedPart } from '../model/scene.js';

/** A grip on a part, and where the plan states it. */
export interface PartGrip {
  readonly where: string;
  readonly placed: PlacedPart;
  readonly grip: GripPlace;
  readonly gripper: Gripper;
}
