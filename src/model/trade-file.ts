import { z } from 'zod';
import { planSchema } from './plan.js';
import { objectiveTermSchema } from './settings.js';

/** What `plan --trade --json` prints, as far as it tells of the trade; the rest is passed over. */
export const tradeFileSchema = z
  .looseObject({
    kind: z.literal('planned'),
    trade: z
      .strictObject({
        terms: z.tuple([objectiveTermSchema, objectiveTermSchema]),
        completed: z.int().min(0).describe('complete orders from which the plans were chosen'),
        plans: z.array(planSchema).min(1).describe('least of the first term first'),
      })
      .describe('plans between two terms'),
  })
  .describe('output of `plan --trade --json`');

export type TradeFile = z.infer<typeof tradeFileSchema>;
