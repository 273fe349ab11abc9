import { z } from 'zod';
import { positive } from './scalars.js';

const DEFAULTS = { segment: 100, step: 200, tries: 12_000 };

/** How an order of the full welds is looked for (`plan --weld`): a screening estimate. */
export const weldSettingsSchema = z
  .strictObject({
    segment: positive
      .min(10)
      .default(DEFAULTS.segment)
      .describe('a seam counts as laid and shrunk in pieces of at most this length, mm (our choice)'),
    step: positive
      .min(10)
      .default(DEFAULTS.step)
      .describe(
        'length of a step of back-step and skip welding, mm, in whole segments (common practice: 100 to 300)',
      ),
    tries: z
      .int()
      .min(1)
      .default(DEFAULTS.tries)
      .describe(
        'segments that the search of an order may lay in all; more finds better orders of many seams',
      ),
  })
  .default(DEFAULTS)
  .describe('order of the full welds after tacking: a screening estimate');
