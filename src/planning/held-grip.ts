import type { StandingArm } from '../facts/arm-room.js';
import type { Facts } from '../facts/facts.js';
import type { GripMotion } from '../facts/grip-motion.js';
import type { Grip } from '../facts/grips.js';
import type { HeldPart } from '../rules/assembly.js';

/** A part in its final place, and the grip that holds it while tacks are laid. */
export interface HeldGrip {
  readonly part: number;
  readonly grip: Grip;
  /** How its arm stands meanwhile; undefined when the arm is left out of the question. */
  readonly motion: GripMotion | undefined;
}

/** The same as statics takes it. */
export const heldBy = ({ part, grip }: Pick<HeldGrip, 'part' | 'grip'>): HeldPart => ({
  part,
  grip,
  gripper: grip.gripper,
  robot: grip.robot,
});

/** A text that is equal for holds that take the same room: the two bends of the wrist for one pose do. */
export const holdKey = ({ grip, motion }: Pick<HeldGrip, 'grip' | 'motion'>): string =>
  `${grip.id} ${motion === undefined ? '-' : motion.branch >> 1}`;

/** How a part comes into place: a whole way, or only a grip where the arm is left out of the question. */
export interface Bringing {
  readonly grip: Grip;
  readonly place?: GripMotion | undefined;
}

/** The hold of a part by the grip that brings it. */
export const holdBy = (part: number, { grip, place }: Bringing): HeldGrip => ({ part, grip, motion: place });

/** The arms of holds as they stand meanwhile, as far as they are known. */
export const armsOf = (facts: Facts, holds: readonly HeldGrip[]): readonly StandingArm[] =>
  holds.flatMap(({ part, grip, motion }) => (motion ? [facts.standing(part, grip, motion)] : []));
