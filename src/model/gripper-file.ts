import { z } from 'zod';
import { finite, nameSchema, notNegative, pointSchema, positive, share } from './scalars.js';

const padCentres = z.array(z.tuple([finite, finite])).min(1);
const padNumbers = z
  .array(z.int().min(1))
  .min(1)
  .refine((numbers) => new Set(numbers).size === numbers.length, 'must name each pad once');
const groups = z
  .record(nameSchema, padNumbers)
  .optional()
  .describe(
    'sets of pads that are switched together, each a list of pad numbers from 1; a grip may name one',
  );
const friction = positive.max(1);

const magnetSchema = z.strictObject({
  kind: z
    .enum(['permanent', 'electro', 'electro-permanent'])
    .default('electro-permanent')
    .describe('electro-permanent: current only switches it; electro: it holds only while current flows'),
  'pull-per-pad': positive.describe('rated breakaway pull of one pad, N'),
  pads: padCentres.max(8).describe('pad centres in the pad plane, mm'),
  'pad-diameter': positive,
  'rated-thickness': positive.describe('steel thickness from which the rated pull is reached, mm'),
  grade: z
    .enum(['N', 'M', 'H', 'SH'])
    .default('N')
    .describe('temperature grade of its magnets: up to 80, 100, 120, 150 C (from memory)'),
  temperature: finite
    .default(20)
    .describe(
      'of the magnets at work, C; above 20 they lose about 0.12 % of their flux a kelvin (from memory)',
    ),
  groups,
  residual: share
    .default(0.05)
    .describe('share of the pull that is left after demagnetising (common practice)'),
  'demagnetise-seconds': notNegative
    .default(0)
    .describe('time to demagnetise beyond `times.release` of the cell, which includes it by default'),
  friction: friction.default(0.2),
  'arc-distance': notNegative
    .default(60)
    .describe('least distance of an arc to the rim of an energised pad (arc blow, heat), mm'),
  'gap-factor': share.default(0.75).describe('share of the pull that is left with mill scale and paint'),
  'attraction-distance': notNegative
    .default(50)
    .describe(
      'other steel parts nearer than this to an energised pad are pulled at, mm; default: our choice, from there a pad pulls with less than 0.3 % of its force by our estimate',
    ),
});

const vacuumSchema = z.strictObject({
  'pressure-kpa': positive.max(100).describe('pressure in the cups below that of the air outside, kPa'),
  cups: padCentres.max(16).describe('cup centres in the pad plane, mm'),
  'cup-diameter': positive.describe('inside the sealing lip, mm: the pressure acts on this circle'),
  'surface-factor': positive
    .max(1)
    .default(0.8)
    .describe('share of the pull that scale, oil and roughness leave (our choice)'),
  friction: friction.default(0.2).describe('of the cups on the part; default: oily steel (our choice)'),
  groups,
  residual: share
    .default(0.05)
    .describe('share of the pull that is left when the gripper leaves without blow-off (our choice)'),
  'blow-off': notNegative.default(0).describe('force of the air blown into each cup to let go, N'),
  'blow-off-seconds': notNegative
    .default(0)
    .describe('time to fill the cups again beyond `times.release` of the cell'),
  'reserve-seconds': notNegative
    .default(0)
    .describe('how long the cups keep their pull when the supply fails: reservoir and non-return valve'),
  'arc-distance': notNegative
    .default(100)
    .describe('least distance of an arc to the rim of a cup in use (heat on rubber; our choice), mm'),
});

const jawSchema = z
  .strictObject({
    force: positive.describe('with which each of the two fingers presses, N'),
    stroke: z
      .tuple([notNegative, positive])
      .refine(([least, most]) => least < most, 'least must be under most')
      .describe('least and greatest distance between the finger pads, mm'),
    'pad-diameter': positive.describe('of the flat round pad at the tip of each finger, mm'),
    depth: positive.describe(
      'how far the fingers reach down beside the part from the face that the gripper comes down on, mm',
    ),
    friction: friction.default(0.2).describe('of the pads on the part; default: steel on steel'),
    'finger-thickness': positive.default(12).describe('of each finger behind its pad, mm (our choice)'),
    'opens-by': positive
      .optional()
      .describe('how far each finger opens to come and to go, mm; default: to the end of the stroke'),
    'opening-drag': notNegative
      .optional()
      .describe(
        'by how much each finger drags the part along as the gripper leaves, N; default: 5 % of friction times force (our choice, as of a magnet)',
      ),
    'open-seconds': notNegative.default(0).describe('time to open beyond `times.release` of the cell'),
    'arc-distance': notNegative
      .default(20)
      .describe('least distance of an arc to the rim of a finger pad (spatter, heat; our choice), mm'),
  })
  .refine((jaw) => jaw.depth >= jaw['pad-diameter'], {
    path: ['depth'],
    error: 'must be at least `pad-diameter`, so that the pad has room on the finger',
  })
  .refine(
    ({ stroke: [least, most], 'opens-by': by }) => by === undefined || least >= most || 2 * by < most - least,
    {
      path: ['opens-by'],
      error:
        'must be less than half of the way between least and greatest `stroke`, since each finger opens by it',
    },
  );

/** What a gripper may rely on when power or air fails. */
const POWER_LOSSES = ['must-stand', 'stored-seconds', 'exclusion-zone'] as const;
const GIVEN = ['magnet', 'vacuum', 'jaw'] as const;
const isMap = ({ value }: { readonly value: unknown }): boolean =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Of a kind of power loss that nobody knows its own line speaks. */
const hasUnknownPowerLoss = (gripper: unknown): boolean => {
  const given = (gripper as { readonly 'on-power-loss'?: unknown })['on-power-loss'];
  return given !== undefined && !POWER_LOSSES.some((kind) => kind === given);
};

export const gripperFileSchema = z
  .strictObject({
    magnet: magnetSchema.optional(),
    vacuum: vacuumSchema.optional(),
    jaw: jawSchema.optional().describe('two opposed fingers that close along the x axis of the pad plane'),
    'on-power-loss': z
      .enum(POWER_LOSSES)
      .optional()
      .describe(
        'what is relied on when power or air fails while a part is held. must-stand: it stands by itself; stored-seconds: the gripper keeps its pull that long; exclusion-zone: it may fall, and nobody may be there. Default: a permanent or electro-permanent magnet keeps its pull without end, since it needs no current to hold; a vacuum with `reserve-seconds` keeps it so long; all others lose it at once, so only an exclusion zone is left',
      ),
    'stored-seconds': positive
      .optional()
      .describe('how long the pull is kept, with `on-power-loss: stored-seconds`'),
    mass: positive,
    slip: notNegative
      .default(0.1)
      .describe(
        'shift of a part when it is picked, in the pad plane, of a jaw in any direction, +- mm (our estimate)',
      ),
    reach: positive.describe(
      'from the flange to the pad plane, along the flange axis, mm; of a jaw: to the face that it comes down on',
    ),
    envelope: z
      .strictObject({ length: positive, width: positive, height: positive })
      .describe('box behind the pad plane that the gripper stays within, fingers of a jaw apart, mm'),
    stand: pointSchema.describe('where it is kept when not on the arm (flange position, pointing down), mm'),
  })
  .refine((gripper) => GIVEN.filter((kind) => gripper[kind] !== undefined).length === 1, {
    error: 'needs exactly one of magnet, vacuum, jaw',
    // Also when another key is wrong, so that all issues of a gripper are told in one run.
    when: isMap,
  })
  .refine((gripper) => gripper['on-power-loss'] !== 'stored-seconds' || 'stored-seconds' in gripper, {
    path: ['stored-seconds'],
    error: 'is missing',
    when: isMap,
  })
  .refine((gripper) => !('stored-seconds' in gripper) || gripper['on-power-loss'] === 'stored-seconds', {
    path: ['stored-seconds'],
    error: 'use it with `on-power-loss: stored-seconds` only: add that, or leave this out',
    when: ({ value }) => isMap({ value }) && !hasUnknownPowerLoss(value),
  });

export type GripperFile = z.infer<typeof gripperFileSchema>;
