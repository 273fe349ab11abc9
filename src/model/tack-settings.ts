import { z } from 'zod';
import { leastTackLength } from '../mechanics/tack-rules.js';
import { notNegative, positive } from './scalars.js';

const DEFAULTS = {
  rule: 'en1090',
  'pitch-thicknesses': 30,
  'pitch-most': 300,
  'thin-below': 3,
  'thin-pitch': 75,
  'end-distance': 10,
  'corner-distance': 10,
  'weld-ends': 10,
  sides: 'paired',
  'least-number': 2,
  'least-securing': 2,
  'lost-tack': 'survive',
  step: 10,
  leg: 4,
  'rework-gap': 5,
  'cooling-constant': 1.2,
} as const;

/** Where tacks go, how large they are and how many let a part go; every value with its source or reason. */
export const tackSettingsSchema = z
  .strictObject({
    rule: z
      .enum(['en1090', 'en1011', 'own'])
      .default(DEFAULTS.rule)
      .describe(
        'least length of a tack. en1090: the smaller of 4 thicknesses of the thicker part and 50 mm (EN 1090-2 7.5.7, from memory); en1011: 50 mm, below 12 mm of thickness 4 thicknesses (EN 1011-2 clause 13); own: `least-length`. All else of these settings is common practice or our choice and goes with any rule',
      ),
    'least-length': positive
      .optional()
      .describe('least length of a tack by your own rule, mm; with `rule: own`, and only with it'),
    'pitch-thicknesses': positive
      .default(DEFAULTS['pitch-thicknesses'])
      .describe(
        'largest pitch, middle to middle and from the ends of the seam, as a multiple of the thinner part (20 to 40 is common practice)',
      ),
    'pitch-most': positive
      .default(DEFAULTS['pitch-most'])
      .describe('and never more, mm (300 to 500 is common practice)'),
    'thin-below': notNegative
      .default(DEFAULTS['thin-below'])
      .describe('a thinner part below this, mm, is thin sheet (our choice); 0: none is'),
    'thin-pitch': positive
      .default(DEFAULTS['thin-pitch'])
      .describe('largest pitch on thin sheet, mm (50 to 75 is common practice)'),
    'end-distance': notNegative
      .default(DEFAULTS['end-distance'])
      .describe('of a tack from the ends of its seam, mm (10 to 25 is common practice)'),
    'corner-distance': notNegative
      .default(DEFAULTS['corner-distance'])
      .describe(
        'of a tack from a corner, mm (10 to 25 is common practice): where another seam meets its seam, and the ends of its seam, which lie at an edge of a part',
      ),
    'weld-ends': notNegative
      .default(DEFAULTS['weld-ends'])
      .describe(
        'of a tack from where the final weld starts and stops, the ends of its seam, mm (our choice): the arc is steady after about 10 mm, and a start on a tack fuses badly. At the ends of a seam the largest of this, the end distance and the corner distance counts',
      ),
    sides: z
      .enum(['paired', 'staggered', 'free'])
      .default(DEFAULTS.sides)
      .describe(
        'the two sides of a double-sided joint. paired: a tack on each side at the same place, so that their shrinkage pulls against each other (our choice); staggered: half a pitch apart, so that no place gets the heat of two; free: each side by itself. A wish that costs no tack: the plan lists the tacks for which it could not be had',
      ),
    'least-number': z
      .int()
      .min(1)
      .default(DEFAULTS['least-number'])
      .describe('least number of tacks on a seam that has room for them (common practice)'),
    'least-securing': z
      .int()
      .min(1)
      .default(DEFAULTS['least-securing'])
      .describe(
        'least number of tacks before a held part is let go, when so many can be laid (common practice)',
      ),
    'lost-tack': z
      .enum(['survive', 'proof-pull'])
      .default(DEFAULTS['lost-tack'])
      .describe(
        'survive: the securing tacks keep every reserve with any one of them missing, or else the part is pulled at before it is let go; proof-pull: always pull',
      ),
    step: z.number().finite().min(1).default(DEFAULTS.step).describe('distance of candidate sites, mm'),
    leg: positive
      .default(DEFAULTS.leg)
      .describe(
        'largest leg of a tack, mm; never more than the final leg, so that the final weld covers it (AWS D1.1 5.17, from memory)',
      ),
    'rework-gap': notNegative
      .default(DEFAULTS['rework-gap'])
      .describe(
        'least distance of a tack that is laid instead of a bad one from every other, mm (our choice)',
      ),
    'cooling-constant': positive
      .default(DEFAULTS['cooling-constant'])
      .describe(
        'seconds in which the excess temperature of a fresh tack falls to 37 %, where both parts are at least 8 mm thick; longer on thinner ones, as the thickness is less (our estimate)',
      ),
  })
  .superRefine((tacks, context) => {
    const own = tacks['least-length'];
    const complain = (message: string): void =>
      context.addIssue({ code: 'custom', path: ['least-length'], message });
    if (tacks.rule === 'own' && own === undefined)
      complain('is missing with `rule: own`; give the least length of a tack, mm');
    if (tacks.rule !== 'own' && own !== undefined)
      complain(`is given with \`rule: ${tacks.rule}\`; write \`rule: own\` or leave it out`);
  })
  .default(DEFAULTS);

export type TackSettings = z.infer<typeof tackSettingsSchema>;

/** Least length of a tack, mm, where the thicker part has this thickness, mm. */
export const leastLength = (tacks: TackSettings, thicker: number): number =>
  tacks.rule === 'own' ? tacks['least-length']! : leastTackLength(tacks.rule, thicker);

/** Largest distance of neighbouring tack middles, and of the outer ones from the ends of the seam, mm. */
export const largestPitch = (tacks: TackSettings, thinner: number): number =>
  thinner < tacks['thin-below']
    ? tacks['thin-pitch']
    : Math.min(tacks['pitch-thicknesses'] * thinner, tacks['pitch-most']);

/** Least distance of a tack from the ends of its seam, mm. */
export const endMargin = (tacks: TackSettings): number =>
  Math.max(tacks['end-distance'], tacks['corner-distance'], tacks['weld-ends']);
