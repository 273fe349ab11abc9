import { z } from 'zod';
import { nameSchema, notNegative, positive, restSchema } from './scalars.js';

/** What a sub-assembly carries least surely while it is handled as one part. */
export const liftSchema = z
  .strictObject({
    grip: z.int().min(1).describe('number of the grip in the stage in which it joins'),
    at: z.enum(['taken', 'home', 'put']).describe('where it hangs on that grip'),
    case: z.string(),
    required: positive,
    reserve: notNegative.describe('capped at 10'),
    weakest: z.string().describe('what gives out first; empty when nothing does below the cap'),
  })
  .describe(
    'its parts as bodies, joined by its tacks and hanging on the pads: its weight and its inertia, at both ends of every grip and at home',
  );

export type PlanLift = z.infer<typeof liftSchema>;

/** A sub-assembly of a plan: what it is made of, how it lies, its own plan and how surely it is lifted. */
export const planSubAssemblySchema = <P extends z.ZodType>(plan: P) =>
  z.strictObject({
    name: nameSchema.describe('of the part that it is in the stages of this plan'),
    parts: z.array(nameSchema).min(2).describe('in the order of their names'),
    rest: restSchema.describe(
      'the face on which it is built and then lies at the infeed, `<part>/<face>` or `toes-1`, `toes-2`',
    ),
    within: notNegative.describe(
      'how far a part of it may be off its place, +- mm: it is measured before it is laid at the infeed',
    ),
    plan,
    lift: liftSchema,
  });
