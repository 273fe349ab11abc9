import { z } from 'zod';
import { planPoseSchema } from './plan-pose.js';
import { finite, nameSchema } from './scalars.js';

/** Frames in which a move may be taught: the cell, the weldment on its table, a station. */
export const workFrameSchema = z.enum(['cell', 'weldment', 'infeed', 'regrip', 'two-sided']);

export type WorkFrame = z.infer<typeof workFrameSchema>;

export const framesSchema = z
  .strictObject({
    bases: z
      .array(z.strictObject({ robot: nameSchema, pose: planPoseSchema.describe('in the cell') }))
      .describe('of the robots, in the order of the programs'),
    tools: z
      .array(
        z.strictObject({
          name: nameSchema.describe('the gripper, the torch, or `flange`'),
          kind: z.enum(['flange', 'gripper', 'torch']),
          robot: nameSchema.describe('on whose flange it is'),
          pose: planPoseSchema.describe(
            'from the flange, whose z axis points out of it; of a gripper: its pad plane, z into the part; of a torch: the wire tip, z the feed of the wire',
          ),
        }),
      )
      .describe('tool frames that the moves of each robot use, each once a robot'),
    works: z
      .array(
        z.strictObject({
          name: workFrameSchema,
          pose: planPoseSchema.describe('in the cell, with the work table at index angle 0'),
          about: z
            .tuple([finite, finite])
            .optional()
            .describe(
              'x and y of the vertical about which the frame turns with the work table: in a stage it is this pose turned about it by the index angle of the stage; absent: it stands still',
            ),
        }),
      )
      .describe('work frames of the cell'),
  })
  .describe('the frames that moves and tacks name');

export type PlanFrames = z.infer<typeof framesSchema>;
export type ToolKind = PlanFrames['tools'][number]['kind'];
