import { z } from 'zod';
import { framesSchema } from './frames.js';
import { handshakeSchema } from './plan-handshake.js';
import { stepSchema, type Step } from './plan-step.js';
import { nameSchema, positive, share } from './scalars.js';

export const PROGRAMS_FORMAT = 'tackwright-programs';
export const PROGRAMS_VERSION = 1;

/** Steps that need an arc, or a tack that was laid. */
const LEFT_OUT: readonly string[] = ['tack', 'wire-check', 'accept', 'cool'];

type LeftOut = 'tack' | 'wire-check' | 'accept' | 'cool';

/** A step without its time, which is that of the plan no longer; its number is that of the plan. */
export type DryStep = {
  [K in Exclude<Step['do'], LeftOut>]: Omit<Extract<Step, { do: K }>, 'start' | 'end'>;
}[Exclude<Step['do'], LeftOut>];

const options = stepSchema.options
  .filter(({ shape }) => !LEFT_OUT.includes(shape.do.value))
  .map((option) => (option as z.ZodObject).omit({ start: true, end: true }));

const dryStepSchema = z.union(options as [z.ZodObject, ...z.ZodObject[]]) as unknown as z.ZodType<DryStep>;

const inputSchema = z.strictObject({ name: nameSchema, digest: z.string() });

export const dryRunSchema = z
  .strictObject({
    format: z.literal(PROGRAMS_FORMAT),
    version: z.literal(PROGRAMS_VERSION),
    variant: z.literal('dry-run'),
    weldment: inputSchema,
    cell: inputSchema,
    speed: share.describe('factor by which every move is slower than in the plan'),
    frames: framesSchema,
    handshakes: z.array(handshakeSchema).describe('with their time limits drawn out by the same factor'),
    programs: z.array(
      z.strictObject({
        robot: nameSchema,
        duty: z.enum(['handle', 'weld']),
        steps: z
          .array(dryStepSchema)
          .describe('numbers are those of the plan, where some are left out; a tack is a straight move'),
      }),
    ),
    stops: z
      .array(
        z.strictObject({
          robot: nameSchema,
          step: positive.int().describe('stop all robots before it, until a person says so'),
          why: z.string(),
        }),
      )
      .describe('no tack is laid, so here a person sees to it that nothing falls'),
    cautions: z.array(z.string()),
  })
  .describe('the programs of a plan for a first try without arc');

type Document = z.infer<typeof dryRunSchema>;
export type DryRun = Omit<Document, 'programs'> & {
  readonly programs: readonly {
    readonly robot: string;
    readonly duty: 'handle' | 'weld';
    readonly steps: readonly DryStep[];
  }[];
};
