import type { WishGrip } from '../rules/wish-kept.js';
import type { Grip } from './grips.js';

/** A grip as wishes see it, and as a plan states it. */
export const seenGrip = ({ gripper, robot, face, position, turn, group }: Grip): WishGrip => ({
  ...{ face, position, gripper: gripper.id, robot: robot.id },
  ...{ turn: (turn * 180) / Math.PI, group: group ?? null },
});
