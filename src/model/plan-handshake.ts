import { z } from 'zod';
import { nameSchema, positive } from './scalars.js';

export const handshakeSchema = z.strictObject({
  id: z.string(),
  from: z.strictObject({ robot: nameSchema, step: z.int().min(1) }),
  to: z.strictObject({ robot: nameSchema, step: z.int().min(1) }),
  meaning: z.string(),
  guards: z.string().describe('what could happen without it'),
  timeLimit: positive.describe('seconds the wait lasts before the reaction'),
  reaction: z.string(),
});

export type Handshake = z.infer<typeof handshakeSchema>;
