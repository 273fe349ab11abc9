import { z } from 'zod';
import { finite, nameSchema, restSchema } from './scalars.js';
import { objectiveTermSchema } from './settings.js';

const count = z.int().min(0);

const totalsSchema = z
  .array(
    z.strictObject({
      term: objectiveTermSchema,
      value: count.describe('time in tenths of a second, the others are numbers'),
    }),
  )
  .describe('of all plans together, the terms in the order in which they count');

const triedSplitSchema = z
  .strictObject({
    groups: z
      .array(z.strictObject({ parts: z.array(nameSchema).min(2), rest: restSchema }))
      .min(1)
      .describe('each sub-assembly, and the face on which it would be built'),
    outcome: z
      .enum(['planned', 'dearer', 'impossible', 'none-found', 'refused'])
      .describe(
        'dearer: the plans of the sub-assemblies alone cost as much as the best so far; refused: there are plans, and together they break a rule',
      ),
    objective: totalsSchema.optional().describe('present where it was planned'),
    of: nameSchema.optional().describe('what has no plan: the weldment, or one of the sub-assemblies'),
    reason: z
      .strictObject({
        code: z.string(),
        subjects: z.array(z.string()),
        value: finite.optional(),
        limit: finite.optional(),
      })
      .optional()
      .describe('the first of those against it'),
  })
  .describe('a way to split the weldment that was tried');

/** What sub-assemblies and weldment come to together, and what was compared before they were taken or left. */
export const wholeSchema = z.strictObject({
  asked: z
    .enum(['given', 'auto'])
    .describe('given: the weldment file names the sub-assemblies; auto: the planner was to look for some'),
  objective: totalsSchema,
  changesBetween: count.describe(
    'grippers that are changed between one plan and the next, those of the sub-assemblies in their order, then that of the weldment: they count among the tool changes, what they take does not count as time',
  ),
  inOnePiece: z
    .strictObject({
      outcome: z.enum(['planned', 'impossible', 'none-found']),
      objective: totalsSchema.optional(),
    })
    .optional()
    .describe('the weldment without sub-assemblies; absent where they are given, so that nobody asked'),
  search: z
    .strictObject({
      liftable: count.describe(
        'connected groups of parts that robots set and that one of them may lift by their mass',
      ),
      largest: count.describe('parts of a group at most'),
      cut: z.boolean().describe('whether there are more such groups than were listed'),
      promising: count.describe('of these, groups with a part on which there is something to be gained'),
      tried: z.array(triedSplitSchema),
      most: count.describe('splits tried at most'),
      cutBy: z
        .enum(['tries', 'seconds', 'stop'])
        .optional()
        .describe('why not all promising groups were tried; absent: they were'),
    })
    .optional()
    .describe('how sub-assemblies were looked for; absent where they are given'),
});

export type PlanWhole = z.infer<typeof wholeSchema>;
export type Totals = z.infer<typeof totalsSchema>;
export type TriedSplit = z.infer<typeof triedSplitSchema>;
