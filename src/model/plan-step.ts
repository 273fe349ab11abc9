import { z } from 'zod';
import { finite, nameSchema, notNegative, positive, sixSchema } from './scalars.js';

const jointsSchema = sixSchema.describe('joint angles, degrees');
const count = z.int().min(0);

const zoneSchema = z
  .enum(['work', 'stations'])
  .describe('work: around the weldment; stations: infeed and regrip table, where several robots fetch');

const stepBase = {
  n: z.int().min(1),
  stage: count.describe('0: before the first and after the last'),
  start: notNegative.describe('seconds'),
  end: notNegative,
};

export const stepSchema = z.discriminatedUnion('do', [
  z.strictObject({
    ...stepBase,
    do: z.literal('move'),
    path: z.enum(['joint', 'straight']),
    to: jointsSchema,
    place: z.string().describe('what is at the end of the move'),
    via: z
      .literal(true)
      .optional()
      .describe('an intermediate point, so that arm and load stay clear of what stands around'),
  }),
  z.strictObject({ ...stepBase, do: z.literal('change-gripper'), to: nameSchema }),
  z.strictObject({ ...stepBase, do: z.literal('grip'), part: nameSchema, gripper: nameSchema }),
  z
    .strictObject({ ...stepBase, do: z.literal('set-down'), part: nameSchema })
    .describe('on the regrip table or the stand'),
  z
    .strictObject({ ...stepBase, do: z.literal('locate'), part: nameSchema })
    .describe('push the part against the stops of the regrip table or the stand'),
  z
    .strictObject({ ...stepBase, do: z.literal('seat'), part: nameSchema, force: positive.describe('N') })
    .describe('press the part against its neighbours with limited force'),
  z
    .strictObject({ ...stepBase, do: z.literal('seam-search'), joint: z.string() })
    .describe('touch both parts of a joint to find its seam'),
  z.strictObject({ ...stepBase, do: z.literal('clamp'), part: nameSchema, clamp: nameSchema }),
  z
    .strictObject({ ...stepBase, do: z.literal('hold'), part: nameSchema })
    .describe('the part is in place and still'),
  z
    .strictObject({ ...stepBase, do: z.literal('proof-pull'), part: nameSchema, force: positive })
    .describe('pull at the part and watch that it does not move; if it does, keep holding and stop'),
  z
    .strictObject({ ...stepBase, do: z.literal('cool'), part: nameSchema })
    .describe('hold on while the securing tacks cool'),
  z.strictObject({ ...stepBase, do: z.literal('let-go'), part: nameSchema }),
  z.strictObject({ ...stepBase, do: z.literal('tack'), tack: z.string() }),
  z
    .strictObject({ ...stepBase, do: z.literal('turn'), to: finite.describe('index angle, degrees') })
    .describe(
      'turn the work table, before its stage, the shorter way; over when it is still. Every robot is out of the work zone and holds nothing there',
    ),
  z.strictObject({ ...stepBase, do: z.literal('enter'), zone: zoneSchema }),
  z.strictObject({ ...stepBase, do: z.literal('leave'), zone: zoneSchema }),
  z.strictObject({ ...stepBase, do: z.literal('signal'), handshake: z.string() }),
  z.strictObject({
    ...stepBase,
    do: z.literal('await'),
    handshake: z.string(),
    at: z.string().describe('where the robot waits: the place at the end of its last move'),
  }),
]);

export type Zone = z.infer<typeof zoneSchema>;
export type Step = z.infer<typeof stepSchema>;
