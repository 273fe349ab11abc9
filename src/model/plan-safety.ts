import { z } from 'zod';

const count = z.int().min(0);

/** What the proof of the programs says. */
export const safetySchema = z
  .strictObject({
    properties: z.array(z.string()).describe('proved for every interleaving of the nominal programs'),
    interleavings: count.describe('states explored'),
    notCovered: z.string(),
  })
  .describe('faults are not modelled yet');

export type Safety = z.infer<typeof safetySchema>;
