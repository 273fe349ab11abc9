import { z } from 'zod';
import { faceSchema, finite, nameSchema } from './scalars.js';

const share = z.number().finite().min(-1).max(1);

/**
 * Where a grip sits on its face, said so that it means the same on a part of another size: as shares of the way from the
 * middle of the face to the last place at which the pads still fit, over the centre of mass, as one of the grips that the
 * file gives the part, or in mm where it is none of these.
 */
export const gripPlaceSchema = z.union([
  z.strictObject({ share: z.tuple([share, share]).describe('along the first and second axis of the face') }),
  z.strictObject({ over: z.literal('centre-of-mass') }),
  z.strictObject({
    given: z.int().min(1).describe('which of the grips that the file gives the part, counted from 1'),
  }),
  z.strictObject({ at: z.tuple([finite, finite]).describe('mm from the middle of the face') }),
]);

/** A grip by its role: which gripper on which face, turned how, and where by proportion. */
export const gripRoleSchema = z.strictObject({
  gripper: nameSchema,
  face: faceSchema,
  group: nameSchema.optional().describe('group of pads in use; absent: all pads of the gripper'),
  turn: finite.describe('degrees about the face normal'),
  place: gripPlaceSchema,
});

/** A signal of a stage: what has come to pass when it is given, by whom, and who waits for it. */
export const signalRoleSchema = z.strictObject({
  state: z
    .string()
    .describe('as `held`, `secured`, `away`: what follows the part in the name of the handshake'),
  from: nameSchema,
  to: nameSchema,
});

export const patternStageSchema = z.strictObject({
  part: nameSchema,
  robot: nameSchema.nullable().describe('brings the part; null: a person sets it'),
  turn: finite.describe('index angle of the work table, degrees'),
  regrips: z
    .array(
      z.strictObject({
        grip: gripRoleSchema,
        to: z.enum(['regrip', 'two-sided']),
        rest: faceSchema.describe('the face on which the part is put down'),
      }),
    )
    .describe('in turn; empty for none'),
  grip: gripRoleSchema.nullable().describe('puts the part in place; null exactly where a person does'),
  held: z.boolean().describe('whether a robot holds the part while its securing tacks are laid'),
  alsoHeld: nameSchema.nullable().describe('an earlier part that is held too'),
  handshakes: z.array(signalRoleSchema).describe('in the order of the plan'),
});

/**
 * One way to build every variant that it fits: the same order, grips by role, holds and handshakes. Lengths, positions and
 * numbers of tacks are the parameters, which each variant has of its own. A variant without some of the parts leaves their
 * stages out.
 */
export const buildPatternSchema = z.strictObject({
  id: z
    .string()
    .describe(
      'as P1; the chosen ones come first, by how many variants they build; empty before it is numbered',
    ),
  from: nameSchema.describe('the variant whose own plan it was taken from'),
  stages: z.array(patternStageSchema),
});

export type GripPlaceRole = z.infer<typeof gripPlaceSchema>;
export type GripRole = z.infer<typeof gripRoleSchema>;
export type SignalRole = z.infer<typeof signalRoleSchema>;
export type PatternStage = z.infer<typeof patternStageSchema>;
export type BuildPattern = z.infer<typeof buildPatternSchema>;
