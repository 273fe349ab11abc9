import { z } from 'zod';
import { faceSchema, finite, nameSchema, pairSchema, pointSchema, positive } from './scalars.js';

const strength = {
  never: z.boolean().default(false).describe('the opposite is wished: that the plan does not do it'),
  soft: z
    .boolean()
    .default(false)
    .describe(
      'false: no plan without it; true: plans are compared by what breaks fewest soft wishes, see `wishes` of the objective',
    ),
  weight: z.int().min(1).max(1000).default(1).describe('what breaking it counts, of a soft wish'),
};

/** How far the middle of a tack may be from where it is wished, mm, where a wish does not say. Our choice. */
const NEAR = 10;

/** That one part joins before another. */
const beforeSchema = z.strictObject({
  before: pairSchema.describe('the first of the two parts joins at some time before the second'),
  ...strength,
});

/** That a part is the first. */
const firstSchema = z.strictObject({ first: nameSchema.describe('the part that joins first'), ...strength });

/** How a part is gripped as it comes into its place; what is left out may be anything. */
const gripSchema = z.strictObject({
  grip: nameSchema.describe('the part whose last grip, which puts it in place, is wished'),
  gripper: nameSchema.optional(),
  face: faceSchema.optional(),
  position: z
    .tuple([finite, finite])
    .optional()
    .describe('of the grip, mm from the face centre along the face axes, to 0.1 mm'),
  turn: finite
    .optional()
    .describe('of the grip, degrees about the face normal, to 0.1 degrees; whole turns make no difference'),
  group: nameSchema.nullable().optional().describe('group of pads in use; null: all pads of the gripper'),
  robot: nameSchema.optional(),
  ...strength,
});

/** That a part comes without a regrip, or with few. */
const regripsSchema = z.strictObject({
  regrips: nameSchema.describe('the part that is regripped `most` times at most'),
  most: z.int().min(0).max(2).default(0),
  ...strength,
});

/** That a robot holds a part while its securing tacks are laid. */
const heldSchema = z.strictObject({
  held: nameSchema.describe('the part that a robot holds while its securing tacks are laid'),
  ...strength,
});

/** That a joint has a tack at a place. */
const tackSchema = z.strictObject({
  tack: pairSchema.describe('the two parts of the joint'),
  near: pointSchema.describe('where the middle of a tack is wished, weldment frame, mm'),
  within: positive.default(NEAR).describe('how far from there it may be, mm; default our choice'),
  ...strength,
});

/** A wish about the plan: each entry has exactly one of the words `before`, `first`, `grip`, `regrips`, `held`, `tack`. */
export const wishSchema = z
  .union([beforeSchema, firstSchema, gripSchema, regripsSchema, heldSchema, tackSchema])
  .describe('a wish about the plan: pinned where it is not soft, forbidden with `never`');

/** Absent where nothing is wished, so that files without wishes mean what they meant before there were any. */
export const wishesSchema = z.array(wishSchema).max(200).optional();

export type Wish = z.infer<typeof wishSchema>;
export type BeforeWish = z.infer<typeof beforeSchema>;
export type FirstWish = z.infer<typeof firstSchema>;
export type GripWish = z.infer<typeof gripSchema>;
export type RegripsWish = z.infer<typeof regripsSchema>;
export type HeldWish = z.infer<typeof heldSchema>;
export type TackWish = z.infer<typeof tackSchema>;

/** Whoever states wishes: a weldment or settings. */
export interface Wisher {
  readonly wishes?: readonly Wish[] | undefined;
}

/** Every wish about a plan, those of the weldment first, then those of the settings, each as its file has them. */
export const wishesOf = (weldment: Wisher, settings: Wisher): readonly Wish[] => [
  ...(weldment.wishes ?? []),
  ...(settings.wishes ?? []),
];
