import { z } from 'zod';
import { lineSchema, notNegative, positive, share } from './scalars.js';

const shrinkage = (what: string) =>
  notNegative
    .max(10)
    .default(1)
    .describe(`factor on the ${what} of published formulas; 1 until it is fitted to your own measurements`);

const DEFAULTS = {
  transverse: 1,
  longitudinal: 1,
  angular: 1,
  origin: 'published formulas, not fitted',
  'limit-share': 1 / 3,
  'orders-judged': 4,
  'arm-stiffness': 500,
  'clamp-stiffness': 20_000,
  'bearing-stiffness': 1_000_000,
  'order-gain': 0.05,
};

/** How distortion is predicted: a screening estimate. */
export const distortionSettingsSchema = z
  .strictObject({
    transverse: shrinkage('shrinkage across a weld'),
    longitudinal: shrinkage('shrinkage along a weld'),
    angular: shrinkage('angle by which a weld turns'),
    origin: lineSchema
      .default(DEFAULTS.origin)
      .describe('where the three factors come from; `tackwright calibrate` writes it'),
    'limit-share': share
      .default(DEFAULTS['limit-share'])
      .describe(
        'share of the general tolerance (ISO 13920, which is for the finished weldment) that tacking may use up (our choice)',
      ),
    'orders-judged': z
      .int()
      .min(1)
      .max(50)
      .default(DEFAULTS['orders-judged'])
      .describe(
        'how many orders are looked for, the best by the estimate of the search first, as long as none keeps every limit; each is a search of its own (our choice)',
      ),
    'arm-stiffness': positive
      .default(DEFAULTS['arm-stiffness'])
      .describe(
        'of an arm that holds a part, at the gripper, in any direction, N/mm (from memory; measure your arm)',
      ),
    'clamp-stiffness': positive
      .default(DEFAULTS['clamp-stiffness'])
      .describe('of the clamps of the first part together, in any direction, N/mm (our estimate)'),
    'bearing-stiffness': positive
      .default(DEFAULTS['bearing-stiffness'])
      .describe('of one corner at which two parts press on each other, N/mm (our estimate)'),
    'order-gain': positive
      .default(DEFAULTS['order-gain'])
      .describe(
        'by how much less a part must be predicted to deviate for its tacks to be laid in another order than the usual one, mm (our choice: less than the prediction is good for)',
      ),
  })
  .default(DEFAULTS)
  .describe('prediction of distortion: a screening estimate');

export type DistortionSettings = z.infer<typeof distortionSettingsSchema>;
