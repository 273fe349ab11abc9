import { z } from 'zod';
import { planPoseSchema } from './plan-pose.js';
import { finite, nameSchema, notNegative, pointSchema, positive } from './scalars.js';

const position = z
  .tuple([finite, finite])
  .describe('of the grip, mm from the face centre along the face axes');

const tackParametersSchema = z.strictObject({
  id: z.string(),
  robot: nameSchema.nullable().describe('lays it; null: a person does'),
  joint: z.string(),
  seam: z.string(),
  start: notNegative.describe('mm along the seam from its `from` end'),
  length: positive,
  leg: positive,
  phase: z.enum(['securing', 'completing']).nullable().describe('null: laid by a person'),
});

/** The numbers that a variant puts in for one stage of a pattern, read off its plan, in which all else stands. */
export const stageParametersSchema = z.strictObject({
  stage: z.int().min(1).describe('number of the stage in the plan'),
  of: z
    .int()
    .min(1)
    .describe('number of the stage in the pattern, which may have parts that the variant lacks'),
  part: nameSchema,
  grips: z
    .array(
      z.strictObject({
        position,
        taken: planPoseSchema.describe('of the part as it is taken, cell frame'),
        put: planPoseSchema.describe('of the part as it is put down or in place, cell frame'),
      }),
    )
    .describe(
      'in turn: one for each regrip of the pattern, then the one that puts it in place; empty where a person does',
    ),
  alsoHeld: position.nullable().describe('on the earlier part that is held too'),
  approach: z
    .strictObject({ direction: pointSchema.describe('unit, cell frame'), distance: positive })
    .nullable(),
  tacks: z.array(tackParametersSchema).describe('in the order in which they are laid'),
  proofPull: positive.nullable().describe('N by which the part is pulled at before it is let go; null: not'),
});

export type StageParameters = z.infer<typeof stageParametersSchema>;
