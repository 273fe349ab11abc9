import { z } from 'zod';
import { finite, nameSchema, notNegative, pointSchema } from './scalars.js';

export const movedSchema = z
  .strictObject({
    part: nameSchema,
    move: pointSchema.describe('of its centre of mass from its nominal place, mm, weldment frame'),
    turn: pointSchema.describe('as a vector along the axis, degrees, weldment frame'),
  })
  .describe('where a part is');

/** What the prediction says of a stage. */
export const stageDistortionSchema = z
  .strictObject({
    steps: z
      .array(
        z.strictObject({
          after: z
            .string()
            .describe('`join` and the part, `tack` and the tack, `let-go` and the part, in their order'),
          moved: z
            .array(movedSchema)
            .describe('parts whose place differs from that after the step before; at first all are at zero'),
        }),
      )
      .describe('every step after which parts may have moved'),
    openings: z
      .array(
        z.strictObject({
          tack: z.string(),
          before: notNegative.describe(
            'how far its seam stands open there just before it is laid, square to the contact, with the designed gap, mm',
          ),
        }),
      )
      .describe('one entry for each tack, in the order in which they are laid'),
  })
  .describe('predicted movement of the parts: a screening estimate');

const featureSchema = z
  .strictObject({
    name: nameSchema,
    from: nameSchema,
    to: nameSchema,
    class: z.enum(['A', 'B', 'C', 'D']).describe('of ISO 13920'),
    nominal: notNegative.describe('distance of the origins of the two parts, mm'),
    deviation: notNegative.describe(
      'how far the origin of `to` is off its place as seen from `from`, in any direction, mm',
    ),
    tolerance: notNegative.describe(
      'general tolerance of the finished weldment, +- mm, linear dimension by its class',
    ),
    limit: notNegative.describe('the share of it that the settings let tacking use up, mm'),
    within: z.boolean(),
  })
  .describe('a tolerance feature of the weldment after the last stage');

const bowSchema = z
  .strictObject({
    parts: z.array(nameSchema).min(1).describe('that run side by side and count as one section'),
    length: notNegative.describe('mm'),
    bow: notNegative.describe('in the middle, by the tacks along it, mm'),
  })
  .describe('a slender member that bows; the parts themselves count as rigid everywhere else');

/** What the prediction says of the whole tack-up. */
export const planDistortionSchema = z
  .strictObject({
    estimate: z.literal('screening').describe('no more than that: see the assumptions'),
    assumptions: z.array(z.string()),
    factors: z
      .strictObject({ transverse: finite, longitudinal: finite, angular: finite })
      .describe('on the published shrinkage, as used'),
    features: z.array(featureSchema),
    bows: z.array(bowSchema),
    worst: z
      .strictObject({
        part: nameSchema,
        mm: notNegative.describe('of the corner of it that moves farthest'),
        stage: z.int().min(1),
        after: z.string().describe('as in the steps of that stage'),
      })
      .nullable()
      .describe('the greatest movement of any part after any step; null where nothing moves'),
  })
  .describe('predicted distortion of the tack-up: a screening estimate');

export type StageDistortion = z.infer<typeof stageDistortionSchema>;
export type PlanDistortion = z.infer<typeof planDistortionSchema>;
export type MovedPart = z.infer<typeof movedSchema>;
