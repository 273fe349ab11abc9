import { z } from 'zod';
import { notNegative } from './scalars.js';

/** What the code makes of a tack, whoever lays it: fields of its schema. */
export const codeFigures = {
  codeStrength: notNegative.describe(
    'EN 1993-1-8, simplified method, whole tack, N; 0: by that code it carries no load. The reserves do not use it',
  ),
  codeReason: z
    .enum(['long-enough', 'too-short'])
    .describe('too-short: its effective length is below 30 mm or 6 throats (EN 1993-1-8 4.5.1)'),
  effectiveLength: notNegative.describe('length less a throat at each end, mm (EN 1993-1-8 4.5.1)'),
};
