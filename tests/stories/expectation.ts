import { parse } from 'yaml';
import { z } from 'zod';
import { faultKindSchema } from '../../src/model/plan-safety.js';
import { remedySchema } from '../../src/model/plan.js';
import { FACT_KINDS } from '../../src/model/reason-fact.js';
import { weldingPositionSchema } from '../../src/model/welding-position.js';

const name = z.string().min(1);
const count = z.int().min(0);

const common = {
  why: z.string().min(20).describe('where the known answer comes from'),
  'known-failure': z.string().min(20).optional().describe('the defect for which this story still fails'),
};

const planned = z
  .strictObject({
    ...common,
    kind: z.literal('planned'),
    'part-orders': z
      .array(z.array(name).min(1))
      .min(1)
      .optional()
      .describe('orders of the parts in the file; the story holds for each'),
    objective: z
      .partialRecord(z.enum(['regrips', 'tool-changes', 'wishes']), count)
      .optional()
      .describe('value of a term, which must be proved: its bound is the same'),
    'sub-assemblies': z
      .record(name, z.array(name).min(2))
      .optional()
      .describe(
        'exactly these are tacked apart first, each of these parts; empty: none, though some were looked for',
      ),
    together: z
      .partialRecord(z.enum(['regrips', 'tool-changes']), count)
      .optional()
      .describe('value of a term over the plans of sub-assemblies and weldment'),
    'in-one-piece': z
      .partialRecord(z.enum(['regrips', 'tool-changes']), count)
      .optional()
      .describe('value of a term of the plan without sub-assemblies that was compared'),
    before: z
      .array(z.tuple([name, name]))
      .optional()
      .describe('the first joins before the second'),
    angles: z
      .record(name, z.number())
      .optional()
      .describe('index angle of the work table at which each part joins'),
    held: z.array(name).optional().describe('exactly these parts are held while they are tacked'),
    'also-held': z
      .record(name, name)
      .optional()
      .describe('for each part that joins while an earlier one is held, that earlier part; exactly these'),
    'holds-at-once': count
      .optional()
      .describe('most parts that are held at a time while securing tacks are laid'),
    stands: z.record(name, z.enum(['clamped', 'free-standing', 'tacked', 'held'])).optional(),
    'stands-on': z
      .record(name, z.array(name).min(1))
      .optional()
      .describe('what bears a free-standing part: names of parts, or "the table"'),
    'tacked-in-stage-of': z
      .record(name, name)
      .optional()
      .describe('the first tack on a part is laid when the other joins'),
    regrips: z.record(name, count).optional(),
    'pad-groups': z.record(name, name).optional().describe('the group of pads that puts a part in its place'),
    grippers: z.record(name, name).optional().describe('the gripper that puts a part in its place'),
    'set-down': z
      .record(name, z.array(z.enum(['regrip', 'two-sided'])))
      .optional()
      .describe('where each part is set down on its way, in order'),
    remedies: z
      .record(name, z.array(remedySchema))
      .optional()
      .describe('exactly these remedies, each with its step in the programs'),
    accuracy: z
      .record(
        name,
        z.partialRecord(
          z.enum(['gap', 'in-plane', 'tilt', 'torch']),
          z.strictObject({ total: z.number(), without: z.number().optional() }),
        ),
      )
      .optional()
      .describe('worked by hand, mm, to a thousandth'),
    securing: z
      .record(name, z.strictObject({ 'at-least': count, 'each-side': count.optional() }))
      .optional()
      .describe('securing tacks in all, and on each of the two sides of an upright joint'),
    'seams-open': z
      .record(name, z.tuple([z.number(), z.number(), z.number()]))
      .optional()
      .describe('every tack of the part lies on a seam that opens toward this direction of the weldment'),
    positions: z
      .record(name, z.array(weldingPositionSchema))
      .optional()
      .describe(
        'exactly the welding positions in which the tacks of a part are laid, in the order of the alphabet',
      ),
    'torches-at-once': z
      .record(name, z.array(name).min(2))
      .optional()
      .describe('exactly these robots lay securing tacks of the part, their arcs burning at the same time'),
    'tack-starts': z
      .record(name, z.record(z.string(), z.array(z.number())))
      .optional()
      .describe(
        'where the tacks of the stage of a part start on each seam, mm along it, in order; all of them',
      ),
    'sides-missed': z
      .record(name, z.array(name))
      .optional()
      .describe('exactly these tacks of a part are not paired or staggered as the settings wish'),
    'tacked-by': z
      .record(name, z.record(z.string(), name))
      .optional()
      .describe('for tacks of the stage of a part, by seam: the welding robot that lays them all'),
    'sides-in-turn': z
      .array(name)
      .optional()
      .describe('parts whose first two tacks are on different sides of their joint'),
    'better-than-habits': z
      .record(name, z.number())
      .optional()
      .describe(
        'by how much less the order of the tacks of a part leaves than every habit does, mm, at least',
      ),
    'proof-pull': z
      .array(name)
      .optional()
      .describe('exactly these parts are pulled at before they are let go'),
    'by-way-of-points': z
      .array(name)
      .optional()
      .describe('exactly these robots pass points of their own between strokes, somewhere in their programs'),
    'gives-way': z
      .array(z.string())
      .optional()
      .describe(
        'exactly these waits keep arms apart: "who to whom", of a torch also before which kind of tack',
      ),
    faults: z
      .partialRecord(
        faultKindSchema,
        z.strictObject({
          times: count.optional().describe('rows of the table'),
          ends: z.array(z.enum(['station', 'with-person', 'held', 'standing', 'drop-zone'])).min(1),
        }),
      )
      .optional()
      .describe('exactly these ends of parts, over all steps that the fault can strike'),
    'by-hand': z
      .record(name, z.strictObject({ seconds: z.number(), tacks: count }))
      .optional()
      .describe(
        'parts that a person sets, with their planned seconds and tacks; no robot does anything meanwhile',
      ),
    'drop-zones': z.array(name).optional().describe('exactly these parts have a drop zone under their way'),
    repeated: z
      .record(name, count)
      .optional()
      .describe('how many tacks of a part have another site, with steps, for when they are bad'),
    gaps: z
      .record(name, z.strictObject({ least: z.number().optional(), most: z.number().optional() }))
      .optional()
      .describe('the widest predicted gap before a tack of the stage of a part, mm'),
    handshakes: z
      .array(name)
      .optional()
      .describe('parts with one signal each way around their securing tacks'),
  })
  .refine(
    (story) =>
      Object.keys(story).some((key) => !['why', 'kind', 'known-failure', 'part-orders'].includes(key)),
    'says nothing about the plan',
  );

const nearest = z
  .strictObject({
    code: name,
    value: z.number().optional(),
    limit: z.number().optional(),
    names: z.array(name).min(1).optional().describe('among its subjects'),
  })
  .describe('the nearest miss and its numbers, to a thousandth; it has none that are not given');
const reason = z.strictObject({
  code: name,
  names: z.array(name).min(1),
  kind: z.enum(FACT_KINDS).optional().describe('the kind of fact that it is'),
  wish: name.optional().describe('of a wish: its word, after `not` where it forbids'),
  at: count.optional().describe('of a wish: its place among all of them'),
  nearest: nearest.optional(),
  against: z
    .strictObject({ code: name, names: z.array(name).min(1) })
    .optional()
    .describe('what is against the sites of the seam that came nearest, with these names among its subjects'),
});

const impossible = z.strictObject({
  ...common,
  kind: z.literal('impossible'),
  scope: z.enum(['any', 'candidates']),
  of: name.optional().describe('the sub-assembly that has no plan'),
  reasons: z.array(reason).min(1).describe('each is among the reasons, with these names among its subjects'),
  'no-other-reason': z.boolean().default(false),
  'would-help': z
    .array(z.string())
    .optional()
    .describe('exactly these kinds of remedy are offered, cheapest first; absent: none are tried'),
  'tried-in-vain': z
    .array(z.string())
    .default([])
    .describe('kinds of change that were tried too, none of which is offered'),
  also: z
    .array(z.array(reason).min(1))
    .default([])
    .describe('independent sets of facts; each is among the further sets that are told, with these reasons'),
});

const noneFound = z.strictObject({
  ...common,
  kind: z.literal('none-found'),
  reasons: z.array(reason).default([]).describe('why whole orders fell; each is among the reasons given'),
  left: z
    .array(name)
    .optional()
    .describe('exactly these parts were not in place in the deepest state, whose reasons are told'),
});

const badInput = z.strictObject({
  ...common,
  kind: z.literal('bad-input'),
  issues: z.array(z.string()).min(1).describe('all lines that the user reads, in order'),
});

const expectationSchema = z.discriminatedUnion('kind', [planned, impossible, noneFound, badInput]);

/** What a story says must come out, and why that is known. */
export type Expectation = z.infer<typeof expectationSchema>;
export type Planned = Extract<Expectation, { kind: 'planned' }>;
export type NoneFound = Extract<Expectation, { kind: 'none-found' }>;
export type Impossible = Extract<Expectation, { kind: 'impossible' }>;

/** Reads an `expect.yaml`; throws on anything that is not understood, so that no misspelt wish passes unseen. */
export const readExpectation = (text: string): Expectation => expectationSchema.parse(parse(text));
