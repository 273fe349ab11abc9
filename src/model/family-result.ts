import { z } from 'zod';
import { buildPatternSchema } from './build-pattern.js';
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

export const variantResultSchema = z.strictObject({
  name: nameSchema,
  source: z.enum(['variant', 'corner', 'middle']).describe('of the table, or made of the ranges'),
  values: z.record(z.string(), parameterValueSchema),
  parts: count,
  weldmentFile: z.string().nullable(),
  outcome: z.enum(['planned', 'impossible', 'none-found', 'bad-input']),
  own: planFiguresSchema.nullable().describe('of its own best plan'),
  reasons: z.array(limitSchema).describe('why there is none'),
});

/** One field of the matrix: a variant built by a pattern. */
export const matrixFieldSchema = z.strictObject({
  variant: nameSchema,
  pattern: z.string(),
  fits: z.boolean(),
  figures: planFiguresSchema.nullable(),
  extra: z
    .array(z.strictObject({ term: objectiveTermSchema, value: finite }))
    .nullable()
    .describe('beyond the own best plan, term by term; time in tenths of a second'),
  reasons: z.array(limitSchema).describe('why it does not fit'),
});

export const coveringSchema = z.strictObject({
  chosen: z.array(
    z.strictObject({ pattern: z.string(), variants: z.array(nameSchema).describe('built by it') }),
  ),
  uncovered: z.array(nameSchema),
  proof: z.strictObject({
    outcome: z.enum(['least', 'found']).describe('least: no fewer of these patterns cover the same variants'),
    patterns: count,
    variants: count,
    bound: count,
    by: z
      .enum(['variants-apart', 'exhausted', 'budget'])
      .describe(
        'variants-apart: the named variants share no pattern with one another; exhausted: every smaller choice was ruled out',
      ),
    apart: z.array(nameSchema),
    examined: count,
    costProved: z.boolean().describe('whether no other choice of as few patterns costs less in all'),
  }),
});

export const envelopeSchema = z.strictObject({
  resolution: z.record(z.string(), finite).describe('of each parameter with a range, in its own unit'),
  samples: z.array(
    z.strictObject({
      values: z.record(z.string(), parameterValueSchema),
      patterns: z.array(
        z.strictObject({ pattern: z.string(), fits: z.boolean(), reasons: z.array(limitSchema) }),
      ),
    }),
  ),
  boundaries: z.array(
    z.strictObject({
      pattern: z.string(),
      works: z.record(z.string(), parameterValueSchema),
      fails: z.record(z.string(), parameterValueSchema),
      reasons: z.array(limitSchema).describe('what stops it at `fails`'),
    }),
  ),
});

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
      low: finite.optional(),
      high: finite.optional(),
    }),
  ),
  variants: z.array(variantResultSchema),
  patterns: z.array(buildPatternSchema),
  matrix: z.array(matrixFieldSchema),
  covering: coveringSchema,
  envelope: envelopeSchema.nullable(),
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
