import { z } from 'zod';
import type { PlanDifference } from '../explain/difference/difference.js';
import type { Answer } from '../explain/why/answer.js';
import { objectiveSchema, proofSchema } from '../model/plan-proof.js';
import { FACT_KINDS } from '../model/reason-fact.js';
import { finite, nameSchema } from '../model/scalars.js';
import { objectiveTermSchema } from '../model/settings.js';
import type { Refusal } from '../model/verdict.js';
import { wishSchema } from '../model/wish.js';
import { judgeBy, readBy, type Reading } from './reading.js';

const count = z.int().min(0);
const id = z.string().max(400);
const pair = z.tuple([nameSchema, nameSchema]);

const questionSchema = z.discriminatedUnion('ask', [
  z.object({ ask: z.literal('before'), first: nameSchema, second: nameSchema }),
  z.object({ ask: z.literal('grip'), part: nameSchema }),
  z.object({ ask: z.literal('regrip'), part: nameSchema }),
  z.object({ ask: z.literal('tack'), tack: id }),
  z.object({ ask: z.literal('hold'), stage: id }),
  z.object({ ask: z.literal('not-first'), part: nameSchema }),
]);

const hasSchema = z.discriminatedUnion('of', [
  z.object({
    ...{ of: z.literal('before'), first: nameSchema, second: nameSchema },
    stages: z.tuple([count, count]),
  }),
  z.object({
    ...{ of: z.literal('grip'), part: nameSchema, gripper: id.nullable() },
    ...{
      byHand: z.literal(true).exactOptional(),
      robot: nameSchema.exactOptional(),
      face: nameSchema.exactOptional(),
    },
    position: z.tuple([finite, finite]).exactOptional(),
  }),
  z.object({ of: z.literal('regrip'), part: nameSchema, regrips: count }),
  z.object({ of: z.literal('tack'), tack: id, between: pair, stage: count }),
  z.object({
    ...{ of: z.literal('hold'), stage: count, part: nameSchema, held: nameSchema.nullable() },
    other: z.object({ part: nameSchema, robot: nameSchema }).exactOptional(),
  }),
  z.object({ of: z.literal('not-first'), part: nameSchema, stage: count, first: nameSchema }),
]);

const factSchema = z.object({
  kind: z.enum(FACT_KINDS),
  part: id,
  ...{
    other: id.exactOptional(),
    also: id.exactOptional(),
    robot: id.exactOptional(),
    gripper: id.exactOptional(),
  },
  ...{ seam: id.exactOptional(), about: id.exactOptional(), wish: count.exactOptional() },
  wished: wishSchema.exactOptional(),
});

const refusalSchema: z.ZodType<Refusal> = z.lazy(() =>
  z.object({
    code: z.string().min(1).max(100),
    subjects: z.array(id).max(1000),
    ...{ value: finite.exactOptional(), limit: finite.exactOptional(), unit: id.exactOptional() },
    counts: z.record(id, finite).exactOptional(),
    nearest: refusalSchema.exactOptional(),
    fact: factSchema.exactOptional(),
  }),
);
const reasonsSchema = z.array(refusalSchema).max(1000);

const holdsSchema = z.discriminatedUnion('when', [
  z.object({ when: z.literal('with'), part: id }),
  z.object({ when: z.literal('without'), part: id }),
  z.object({ when: z.literal('first') }),
  z.object({ when: z.literal('otherwise') }),
]);
const heldReasonsSchema = z
  .array(refusalSchema.and(z.object({ holds: holdsSchema.exactOptional() })))
  .max(1000);

const worthSchema = z.object({
  objective: z.array(objectiveSchema),
  provedTerms: proofSchema.shape.provedTerms,
});
const priceSchema = z.object({
  terms: z.array(z.object({ term: objectiveTermSchema, given: finite, wished: finite })),
  exact: z.boolean(),
  atLeast: finite.nullable(),
});

/** What else two plans differ in is no part of a sentence on a page, and is not read. */
const NO_DIFFERENCE: PlanDifference = {
  same: true,
  ...{ inputs: [], settings: [], stages: [], tacks: [], wishes: [], elsewhere: [] },
  objective: { terms: [], better: 'equal', proved: { a: [], b: [] } },
  order: { moved: [], only: { a: [], b: [] } },
  warnings: { a: [], b: [] },
};

const weighed = {
  ...{ given: worthSchema, wished: worthSchema, price: priceSchema, searched: priceSchema.exactOptional() },
  difference: z.unknown().transform(() => NO_DIFFERENCE),
};

const termSchema = z.object({ term: objectiveTermSchema, value: finite });
const left = z.array(z.object({ part: id, reasons: reasonsSchema })).max(1000);
const open = {
  ...{ states: count, waiting: count.exactOptional(), bound: z.array(termSchema) },
  deepest: z.object({ inPlace: z.array(id).max(1000), left }).exactOptional(),
};

const verdictSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('not-so') }),
  z.object({
    kind: z.literal('forced'),
    scope: z.enum(['file', 'any', 'candidates']),
    reasons: heldReasonsSchema,
  }),
  z.object({ kind: z.literal('choice'), ...weighed }),
  z.object({ kind: z.literal('equal'), ...weighed }),
  z.object({ kind: z.literal('better'), ...weighed }),
  z.object({ kind: z.literal('forced-in-orders'), refused: count, reasons: reasonsSchema }),
  z.object({
    ...{ kind: z.literal('dearer'), given: worthSchema, atLeast: termSchema },
    ...{ searched: z.literal(true).exactOptional(), ...open },
  }),
  z.object({ kind: z.literal('open'), given: worthSchema, ...open }),
  z.object({ kind: z.literal('unknown'), states: count }),
]);

const answersSchema = z.object({
  kind: z.literal('answered', { error: 'must be "answered", as `tackwright why --json` prints it' }),
  answers: z
    .array(
      z.object({
        ...{ question: questionSchema, has: hasSchema },
        ...{ wish: wishSchema.exactOptional(), verdict: verdictSchema },
      }),
    )
    .max(10_000),
});

const judgeAnswers = judgeBy(
  answersSchema,
  () => [],
  ({ answers }): readonly Answer[] => answers,
);

/**
 * Reads the answers that `tackwright why --json` prints. What else is different in another plan is left out, and so is
 * what later versions may add.
 */
export const readAnswers = (text: string, file: string): Reading<readonly Answer[]> =>
  readBy(text, file, judgeAnswers);
