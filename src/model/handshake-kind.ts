import { z } from 'zod';

export const handshakeKindSchema = z
  .enum(['single-use', 'four-phase'])
  .describe(
    'single-use: a flag of its own for each handshake, off at program start, raised once and never dropped; ' +
      'four-phase: request on, acknowledge on, request off, acknowledge off, after which the lines may be used again',
  );

export type HandshakeKind = z.infer<typeof handshakeKindSchema>;
