import { z } from 'zod';
import { movedSchema } from './plan-distortion.js';
import { nameSchema, notNegative } from './scalars.js';

const weldRunSchema = z
  .strictObject({
    joint: z.string(),
    seam: z.string(),
    from: notNegative.describe('where the run begins, mm along the seam from its `from` end'),
    to: notNegative.describe('where it ends; less than `from` where it is laid backwards'),
  })
  .describe('a stretch of seam laid in one go');

const valueSchema = notNegative.describe('in the measure of the section');

const weldFeatureSchema = z
  .strictObject({
    name: nameSchema,
    deviation: notNegative.describe('as of tacking, now with all seams welded, mm'),
    tolerance: notNegative.describe('general tolerance of the finished weldment, +- mm'),
    within: z.boolean(),
  })
  .describe('a tolerance feature of the weldment');

/** The order of the full welds after tacking. */
export const planWeldSchema = z
  .strictObject({
    estimate: z.literal('screening').describe('no more than that: see the assumptions'),
    assumptions: z.array(z.string()),
    measure: z
      .enum(['tolerance-share', 'corner-movement'])
      .describe(
        'what is made least. tolerance-share: the greatest share of its tolerance that any feature uses up, 1 for all of it; corner-movement, where there are no features: the farthest that any corner of a part moves as seen from the first part, mm',
      ),
    value: valueSchema,
    runs: z.array(weldRunSchema).describe('in the order in which they are laid; each seam is covered once'),
    moved: z
      .array(movedSchema)
      .describe(
        'parts that have moved, as seen from the first part, with all seams welded and all clamps open',
      ),
    features: z.array(weldFeatureSchema),
    search: z
      .strictObject({
        method: z
          .enum(['every-order-and-way', 'every-order', 'exchange'])
          .describe(
            'every-order-and-way: all orders of the seams, each forwards, backwards, in back-steps and in skips; every-order: all orders forwards, then other ways one by one; exchange: the best of greedy choice and the habits below, then pairs exchanged and ways changed as long as that helps or the budget lasts',
          ),
        tried: z.int().min(1).describe('whole orders that were compared'),
      })
      .describe('how the order was found; of the orders made of whole seams, each done in one of four ways'),
    habits: z
      .strictObject({ file: valueSchema, 'back-step': valueSchema, skip: valueSchema })
      .describe('the order of the file: each seam from end to end; in back-steps; every other step first'),
    worst: z
      .strictObject({ value: valueSchema, runs: z.array(weldRunSchema) })
      .describe('the worst order that the search met'),
  })
  .describe('an order for the full welds after tacking: a screening estimate, and no weld procedure');

export type PlanWeld = z.infer<typeof planWeldSchema>;
export type WeldRun = z.infer<typeof weldRunSchema>;
