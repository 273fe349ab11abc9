import { z } from 'zod';
import { notNegative } from './scalars.js';
import { TACK_HABITS } from './tack-habit.js';

const deviation = notNegative.nullable();

/** How the order of the tacks of a stage compares with others. */
export const tackOrderSchema = z
  .strictObject({
    predicted: deviation.describe(
      'how far off its place the order leaves a corner of the part, or of a part that its tacks join it to, at most, once the stage is over; mm, a screening estimate; null: a seam would gape wider before one of the tacks than can be tacked',
    ),
    habits: z
      .array(z.strictObject({ habit: z.enum(TACK_HABITS), predicted: deviation }))
      .describe(
        'the same for orders by habit (common practice), after the same stages. ends-first: on each seam one end, the other, then halves, from seam to seam in turn; ' +
          'seam-by-seam: one after the other; alternate-sides: from one end to the other, at each place one side after the other; middle-out: on each seam from the middle to both ends',
      ),
    compared: z
      .int()
      .min(1)
      .describe('orders that were compared; completing tacks always follow the securing ones'),
    all: z.boolean().describe('whether that is every order there is; else the best of them was searched for'),
    least: deviation.describe('of the best of them'),
    kept: z
      .enum(['best', 'little-gain', 'refused', 'dearer', 'budget'])
      .describe(
        'best: the order is that one; little-gain: that one is less than `distortion.order-gain` better; refused: with it the assembly would give way, arms would meet or a seam of a later stage would gape; ' +
          'dearer: with it distortion, or a term of the objective that counts before it, would be worse; any term where distortion does not count; ' +
          'budget: the seconds were spent or a stop was asked for, so that no other order was tried in the whole, and of more than a few only those by habit were compared',
      ),
  })
  .describe('how the order of the tacks compares with others; absent for fewer than two tacks');

export type TackOrder = z.infer<typeof tackOrderSchema>;
