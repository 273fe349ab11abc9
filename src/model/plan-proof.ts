import { z } from 'zod';
import { objectiveTermSchema } from './settings.js';

const count = z.int().min(0);

/** A term of the objective, what the plan has of it, and what none can go below. */
export const objectiveSchema = z.strictObject({
  term: objectiveTermSchema,
  value: count.describe('time in tenths of a second, the others are numbers'),
  bound: count.describe(
    'no legal plan within the scope and the policies is better than this, earlier terms being equal',
  ),
});

/** What a plan claims about itself, with the scope of the claim. */
export const proofSchema = z.strictObject({
  outcome: z.enum(['optimal', 'feasible']).describe('optimal: every term is proved within the scope'),
  scope: z
    .strictObject({
      parts: count,
      approaches: count,
      grips: count,
      rests: count,
      sites: count,
    })
    .describe('how many candidates of each kind were considered'),
  policies: z
    .array(z.string())
    .describe('how the planner plans; the proof speaks of plans made this way, not of every conceivable one'),
  provedTerms: z.array(objectiveTermSchema).describe('leading terms whose bound was met'),
  bestOf: count.describe('complete legal orders that were compared'),
  states: count.describe('search states expanded'),
  beforeReordering: z
    .strictObject({
      stages: z.int().min(1).describe('stages whose tacks were put in another order'),
      objective: z.array(objectiveSchema),
      provedTerms: z.array(objectiveTermSchema),
    })
    .optional()
    .describe(
      'what the search came to, before the tacks of its best order were put in an order that distorts less and that changed the objective; its bounds speak of plans with the tacks as the search has them. Absent where nothing of the objective changed',
    ),
  notChecked: z.array(z.string()).describe('what this proof does not cover'),
});
