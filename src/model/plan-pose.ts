import { z } from 'zod';
import { pointSchema, turnSchema } from './scalars.js';

/** A pose as a plan states it; in which frame, the field that has it says. */
export const planPoseSchema = z.strictObject({ at: pointSchema, turn: turnSchema });

export type PlanPose = z.infer<typeof planPoseSchema>;
