import { z } from 'zod';
import { buildPatternSchema } from './build-pattern.js';
import { stageParametersSchema } from './pattern-parameters.js';
import { objectiveSchema } from './plan-proof.js';
import { finite, nameSchema, notNegative } from './scalars.js';
import { objectiveTermSchema, settingsSchema } from './settings.js';

export const FAMILY_FORMAT = 'tackwright-family';
export const FAMILY_VERSION = 1;

const count = z.int().min(0);
const inputSchema = z.strictObject({ name: nameSchema, digest: z.string() });

/** What a parameter may be: a number, a text or yes and no. */
export const parameterValueSchema = z.union([finite, z.boolean(), z.string()]);

/** What limits something, as data and as a sentence for people. */
export const limitSchema = z.strictObject({
  code: z.string(),
  subjects: z.array(z.string()),
  value: finite.optional(),
  limit: finite.optional(),
  text: z.string(),
});

/** What a plan of a variant comes to. */
export const planFiguresSchema = z.strictObject({
  objective: z.array(objectiveSchema),
  regrips: count,
  toolChanges: count,
  seconds: notNegative.describe('of the whole timeline'),
  tacks: count,
  distortion: finite
    .nullable()
    .describe('the largest share of an allowed deviation that is used; null: none is set'),
  leastReserve: z
    .strictObject({
      stage: z.int().min(1),
      state: z.string(),
      case: z.string(),
      reserve: notNegative,
      required: notNegative,
      weakest: z.string(),
    })
    .nullable()
    .describe('the one nearest to what it must be'),
  proved: z.array(objectiveTermSchema).describe('leading terms proved least within the scope of the plan'),
  file: z.string().nullable().describe('of the plan, beside this document'),
});

/** Value by name of each parameter. */
const valuesSchema = z.record(z.string(), parameterValueSchema);

const extraSchema = z.array(
  z.strictObject({
    term: objectiveTermSchema,
    value: finite.describe(
      'time in tenths of a second; below zero where the plan found of its own was not the least',
    ),
  }),
);

const outcomeSchema = z.enum(['planned', 'impossible', 'none-found', 'bad-input']);

export const variantResultSchema = z.strictObject({
  name: nameSchema,
  source: z
    .enum(['variant', 'corner', 'middle'])
    .describe('of the table, or made of the ranges where no variant of the table has these values'),
  values: valuesSchema,
  parts: count,
  weldmentFile: z.string().nullable(),
  outcome: outcomeSchema,
  own: planFiguresSchema.nullable().describe('of its own best plan'),
  searched: z
    .boolean()
    .describe(
      'false: in a quick run, where a plan was enough that is proved least in all terms before the time: whether one is quicker was not looked for, or not to the end',
    ),
  leastSaving: notNegative.describe(
    'seconds: whether another plan is quicker by less than this was not looked for, since the pattern of another variant builds this one; 0: no such thing was left out',
  ),
  reasons: z.array(limitSchema).describe('why there is none'),
});

/** One field of the matrix: a variant built by a pattern. */
export const matrixFieldSchema = z.strictObject({
  variant: nameSchema,
  pattern: z.string(),
  fits: z.boolean(),
  figures: planFiguresSchema.nullable(),
  extra: extraSchema
    .nullable()
    .describe('beyond the own best plan, term by term; null where it does not fit, or no own plan was found'),
  parameters: z
    .array(stageParametersSchema)
    .nullable()
    .describe('what the variant puts in for each stage of the pattern; null where it does not fit'),
  reasons: z.array(limitSchema).describe('why it does not fit'),
});

export const coveringSchema = z.strictObject({
  chosen: z.array(
    z.strictObject({
      pattern: z.string(),
      variants: z.array(nameSchema).describe('built by it: those to which none of the others costs less'),
    }),
  ),
  extra: extraSchema.describe(
    'beyond the own best plans, summed over the variants that are built and have one',
  ),
  uncovered: z
    .array(nameSchema)
    .describe('variants of the table that no candidate fits; the matrix has the reasons'),
  proof: z.strictObject({
    outcome: z
      .enum(['least', 'found'])
      .describe(
        'least: no fewer of these patterns cover the same variants, as far as the matrix says what fits',
      ),
    patterns: count.describe('candidates, each the pattern of some own plan'),
    variants: count.describe('of the table, those that no candidate fits among them'),
    open: count.describe(
      'how often a pattern counts as not fitting a variant of the table only because no such plan was found: the search ended, or its best plan was built otherwise. With such a plan fewer patterns might do',
    ),
    bound: count.describe('no fewer patterns than this can cover what any of them covers'),
    by: z
      .enum(['variants-apart', 'exhausted', 'budget'])
      .describe(
        'variants-apart: the named variants share no pattern with one another; exhausted: every smaller choice was ruled out',
      ),
    apart: z.array(nameSchema),
    examined: count.describe('choices that were looked at'),
    costProved: z
      .boolean()
      .describe(
        'whether no other choice of as few patterns costs less in all; of a variant without an own plan the whole cost counts there, which `extra` leaves out',
      ),
  }),
});

const placeSource = z.enum(['corner', 'middle', 'sample', 'bisection']);

export const envelopeSchema = z
  .strictObject({
    resolution: z
      .record(z.string(), finite)
      .describe('of each parameter with a range, in its own unit: places are whole numbers of it apart'),
    others: valuesSchema.describe('of the parameters without a range, at every place'),
    seed: count,
    samples: z
      .array(
        z.strictObject({
          source: placeSource,
          values: valuesSchema,
          patterns: z
            .array(z.strictObject({ pattern: z.string(), fits: z.boolean(), reasons: z.array(limitSchema) }))
            .describe('the chosen patterns that were tried there'),
        }),
      )
      .describe(
        'all places that were tried: corners, the middle, the seeded sample, then those of bisections',
      ),
    boundaries: z.array(
      z.strictObject({
        pattern: z.string(),
        works: valuesSchema,
        fails: valuesSchema.describe('at most one step of the resolution from `works` in each parameter'),
        alone: outcomeSchema.describe(
          'what comes of the variant at `fails` when it is planned by itself; planned: there is a plan of it, by another pattern unless the reasons say that the search by this one ended',
        ),
        reasons: z
          .array(limitSchema)
          .describe(
            'what stops it at `fails`; where no plan at all is possible there, what rules them all out',
          ),
      }),
    ),
  })
  .describe('where in the ranges the chosen patterns work; tried at these places, not proved between them');

export const familyResultSchema = z.strictObject({
  format: z.literal(FAMILY_FORMAT),
  version: z.literal(FAMILY_VERSION),
  family: inputSchema,
  cell: inputSchema,
  settings: settingsSchema,
  parameters: z.array(
    z.strictObject({
      name: z.string(),
      unit: z.string().optional(),
      low: finite.optional().describe('of its range, where it has one'),
      high: finite.optional(),
    }),
  ),
  variants: z.array(variantResultSchema),
  patterns: z.array(buildPatternSchema).describe('all candidates, the chosen ones first'),
  matrix: z
    .array(matrixFieldSchema)
    .describe('every variant by every pattern, but none of a variant without a weldment'),
  covering: coveringSchema,
  envelope: envelopeSchema.nullable().describe('null: no parameter has a range'),
  warnings: z.array(z.string()),
  cautions: z.array(z.string()),
});

export type ParameterValue = z.infer<typeof parameterValueSchema>;
export type Limit = z.infer<typeof limitSchema>;
export type PlanFigures = z.infer<typeof planFiguresSchema>;
export type VariantResult = z.infer<typeof variantResultSchema>;
export type MatrixField = z.infer<typeof matrixFieldSchema>;
export type FamilyCovering = z.infer<typeof coveringSchema>;
export type FamilyEnvelope = z.infer<typeof envelopeSchema>;
export type FamilyResult = z.infer<typeof familyResultSchema>;
