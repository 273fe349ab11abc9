import { z } from 'zod';

const count = z.int().min(0);

export const witnessSchema = z
  .strictObject({
    robots: count,
    states: count.describe('explored'),
    complete: z
      .boolean()
      .describe(
        'false: more states than are explored, so that only what happens before what proves the properties',
      ),
    reduction: z
      .enum(['none', 'unseen-events-first'])
      .describe(
        'none: every interleaving; unseen-events-first: events on which no property depends happen as soon as they ' +
          'can, and only the others are interleaved',
      ),
  })
  .describe('the second witness of the proof: the runs of the programs, explored state by state');

export type Witness = z.infer<typeof witnessSchema>;

/** What the proof of the programs says. */
export const safetySchema = z
  .strictObject({
    properties: z
      .array(z.string())
      .describe('proved of every run of the nominal programs, by what happens before what'),
    witness: witnessSchema,
    notCovered: z.string(),
  })
  .describe('faults are not modelled yet');

export type Safety = z.infer<typeof safetySchema>;
