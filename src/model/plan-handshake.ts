import { z } from 'zod';
import { handshakeKindSchema } from './handshake-kind.js';
import { nameSchema, positive } from './scalars.js';

/** Letters, digits and single dashes, a letter first: an identifier in most languages once dashes are replaced. */
const identifierSchema = z
  .string()
  .max(120)
  .regex(
    /^[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*$/,
    'must be letters, digits and single dashes, a letter first',
  );

const count = z.int().min(0);

export const waitingSchema = z
  .enum(['holding', 'carrying', 'empty', 'torch-away', 'torch-near'])
  .describe(
    'what the robot that waits does meanwhile. holding: keeps a part still in its place; carrying: has one in its ' +
      'gripper elsewhere; empty: has none; torch-away: a welding robot outside the work zone; torch-near: inside, arc off',
  );

export type Waiting = z.infer<typeof waitingSchema>;

export const handshakeSchema = z.strictObject({
  id: z.string().describe('by which steps refer to it'),
  name: identifierSchema.describe('for people and programs; unique in the plan, made from part and state'),
  kind: handshakeKindSchema,
  line: z
    .int()
    .min(1)
    .optional()
    .describe(
      'four-phase: which pair of lines (request, acknowledge) from the sender to the receiver, each direction counted ' +
        'by itself; absent where it is single-use, with a flag of its own',
    ),
  from: z.strictObject({ robot: nameSchema, step: z.int().min(1) }).describe('the step that signals'),
  to: z.strictObject({ robot: nameSchema, step: z.int().min(1) }).describe('the step that waits'),
  meaning: z.string(),
  guards: z.string().describe('what could happen without it'),
  carries: z
    .array(identifierSchema)
    .min(2)
    .optional()
    .describe('names of the handshakes that it stands for, where several were merged'),
  waiting: waitingSchema,
  timeLimit: positive.describe('seconds the wait lasts before the reaction'),
  reaction: z.string().describe('of all robots when the time is over: nothing that is held is let go'),
});

export const handshakeSetSchema = z
  .strictObject({
    required: count.describe('precedences between two robots that the work asks for'),
    afterReduction: count.describe('of these, not implied by the others and the order of the programs'),
    afterResynchronisation: count.describe(
      'handshakes after merging by longer waits that leave the makespan',
    ),
    minimality: z
      .enum(['none', 'transitive', 'two-robot-least', 'greedy'])
      .describe(
        'none: no claim; transitive: no handshake is implied by the others; two-robot-least: besides, no fewer do for ' +
          'two robots with the same steps and makespan, wherever waits are put; greedy: besides, merged one after ' +
          'another where that costs no makespan, without a claim that fewer would not do',
      ),
    protocol: z
      .array(z.string())
      .describe('how the phases of a four-phase handshake go with the steps; empty where all are single-use'),
  })
  .describe('how many handshakes there are, and why not fewer');

export type Handshake = z.infer<typeof handshakeSchema>;
export type HandshakeSet = z.infer<typeof handshakeSetSchema>;
