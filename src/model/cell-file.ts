import { z } from 'zod';
import { cellArcSchema } from './arc.js';
import { gripperFileSchema } from './gripper-file.js';
import { handlerSchema, welderSchema } from './robot-file.js';
import {
  finite,
  nameSchema,
  notNegative,
  pointSchema,
  positive,
  turnSchema,
  unitsSchema,
} from './scalars.js';

const positionSchema = z
  .strictObject({
    current: positive.optional().describe('A'),
    voltage: positive.optional().describe('V'),
    speed: positive.optional().describe('of the torch along the seam, mm/s'),
  })
  .optional()
  .describe('of tacks in this position; what is absent is that of the process');

const torchSchema = z
  .strictObject({
    length: positive.describe('from the flange to the wire tip along the flange axis, mm'),
    offset: finite.default(0).describe('of the wire tip to the side of the flange axis, mm'),
    bend: finite.default(0).describe('of the wire against the flange axis, degrees'),
    'stick-out': positive.default(15).describe('wire beyond the nozzle, mm'),
    'nozzle-radius': positive.default(10),
    'nozzle-length': positive
      .optional()
      .describe(
        'length of the nozzle as a cylinder, mm; absent: one cone from `nozzle-radius` at the end of the nozzle to `body-radius` stands for nozzle and body',
      ),
    'body-front-radius': positive
      .optional()
      .describe(
        'radius of the torch body at the rear end of the nozzle, where `nozzle-length` is given; default: `body-radius`, so that nothing sticks out of it',
      ),
    'body-radius': positive.default(30).describe('radius of the torch body at `body-length` from the tip'),
    'body-length': positive.default(180),
  })
  .superRefine((torch, context) => {
    const wrong = (key: string, message: string): void =>
      context.addIssue({ code: 'custom', path: [key], message });
    const { 'nozzle-radius': nozzle, 'nozzle-length': long, 'body-front-radius': front } = torch;
    if (torch['body-radius'] < (front ?? nozzle))
      wrong('body-radius', `must be at least ${front === undefined ? 'nozzle' : 'body-front'}-radius`);
    if (front !== undefined && long === undefined) wrong('body-front-radius', 'needs `nozzle-length`');
    if (front !== undefined && front < nozzle) wrong('body-front-radius', 'must be at least `nozzle-radius`');
    if (torch['body-length'] <= torch['stick-out'] + (long ?? 0))
      wrong('body-length', 'must be more than `stick-out` and `nozzle-length` together');
  });

const turntableSchema = z
  .strictObject({
    angles: z
      .array(finite)
      .min(1)
      .describe(
        'index angles, degrees, counted about the vertical from above; 0 is as the file describes the table',
      ),
    at: z
      .tuple([finite, finite])
      .optional()
      .describe('x and y of the axis in the cell, mm; default: the table centre'),
    speed: positive.describe('greatest, degrees/s'),
    acceleration: positive.describe('in starting and in stopping, degrees/s2'),
    settle: notNegative
      .default(1)
      .describe('seconds until an index bolt is in and the table still (our estimate)'),
    'commanded-by': nameSchema
      .optional()
      .describe('the robot whose program turns the table; default: the first welding robot'),
  })
  .describe(
    'the table turns about a vertical axis between stages, with all that stands on it; absent: it does not',
  );

export const cellFileSchema = z.strictObject({
  cell: nameSchema,
  units: unitsSchema,
  robots: z.record(nameSchema, z.discriminatedUnion('duty', [handlerSchema, welderSchema])),
  grippers: z.record(nameSchema, gripperFileSchema),
  torches: z.record(nameSchema, torchSchema),
  stations: z.strictObject({
    infeed: z.strictObject({
      at: pointSchema,
      turn: turnSchema.optional(),
      accuracy: notNegative
        .default(0.5)
        .describe('how far a part may lie off its place, level, +- mm; a tray with stops (our choice)'),
      'turn-accuracy': notNegative
        .default(0.05)
        .describe('how far it may be turned about the vertical, +- degrees; 0.5 mm over 600 mm (our choice)'),
    }),
    regrip: z.strictObject({
      at: pointSchema.describe('centre of its top, mm'),
      size: z.tuple([positive, positive]),
      turn: finite.default(0).describe('about the vertical, degrees'),
      accuracy: notNegative
        .default(0.3)
        .describe('of a part that was located at its stops and taken again, level, +- mm (our choice)'),
      'turn-accuracy': notNegative.default(0.03).describe('the same about the vertical, +- degrees'),
    }),
    'two-sided': z
      .strictObject({
        at: pointSchema.describe('centre of its top, mm'),
        size: z.tuple([positive, positive]).describe('along x and y of the stand, mm'),
        turn: finite.default(0).describe('about the vertical, degrees'),
        opening: z
          .tuple([positive, positive])
          .describe(
            'along x and y, mm; a part bridges it along y, and the ends along x are open, so that an arm gets out',
          ),
        depth: positive
          .default(40)
          .describe('of its rims below the top, mm (our choice); tell what carries them as keep-outs'),
        overlap: positive
          .default(15)
          .describe('least overlap of a part with each rim along y, mm (our choice)'),
        accuracy: notNegative.default(0.3).describe('of a part that was located at its stops, level, +- mm'),
        'turn-accuracy': notNegative.default(0.03).describe('the same about the vertical, +- degrees'),
      })
      .refine(({ size: outer, opening }) => opening[0] <= outer[0] && opening[1] < outer[1], {
        path: ['opening'],
        error: 'must be at most `size` along x and less along y',
      })
      .optional()
      .describe('a stand on which a part lies over an opening, so that it may be taken from below too'),
    table: z.strictObject({
      at: pointSchema.describe('centre of its top, mm'),
      size: z.tuple([positive, positive]),
      turn: finite.default(0).describe('about the vertical, degrees'),
      friction: positive.max(2).default(0.2),
      'weldment-at': pointSchema
        .optional()
        .describe('origin of the weldment frame in the cell; default: the table centre'),
      'weldment-turn': finite.default(0).describe('of the weldment about the vertical, degrees'),
      'first-part': z
        .strictObject({
          clamp: nameSchema.default('none'),
          force: notNegative.default(0),
          accuracy: notNegative
            .default(0.3)
            .describe('how far the first part may be off its place, +- mm; stops on the table (our choice)'),
        })
        .default({ clamp: 'none', force: 0, accuracy: 0.3 })
        .describe(
          'what presses the first part to the table, with how much force in N, and how well it is located',
        ),
      turntable: turntableSchema.optional(),
    }),
  }),
  'keep-outs': z
    .array(
      z.strictObject({
        at: pointSchema,
        size: z.tuple([positive, positive, positive]),
        turn: finite.default(0),
      }),
    )
    .default([])
    .describe('boxes that no part, gripper or torch may enter; `turn` about the vertical'),
  process: z.strictObject({
    current: positive.describe('A'),
    voltage: positive.describe('V'),
    speed: positive.describe('of the torch along the seam, mm/s'),
    arc: cellArcSchema.default('mag'),
    'start-seconds': notNegative.default(0.6).describe('gas pre-flow and arc start of each tack'),
    'end-seconds': notNegative.default(0.8).describe('crater fill and gas post-flow of each tack'),
    'cooling-seconds': notNegative
      .default(2)
      .describe(
        'how long a part is held on after its securing tacks, from when the torch is away, s: a small tack on thick plate loses its glow in a second or two (our choice)',
      ),
    positions: z
      .strictObject({
        ...{ PA: positionSchema, PB: positionSchema, PC: positionSchema, PD: positionSchema },
        ...{ PE: positionSchema, PF: positionSchema, PG: positionSchema },
      })
      .refine((positions) => Object.keys(positions).length > 0, 'must allow at least one position')
      .optional()
      .describe(
        'welding positions (ISO 6947) in which tacks may be laid; one that is not listed is not allowed; absent: all are, with the parameters above (our choice: tacks are short)',
      ),
  }),
  times: z
    .strictObject({
      grip: notNegative.default(0.8),
      release: notNegative.default(1.2),
      'tool-change': notNegative.default(8),
      clamp: notNegative.default(1.5),
      settle: notNegative.default(0.5),
      'proof-pull': notNegative.default(1.5).describe('pulling at a tacked part to see whether it moves'),
      locate: notNegative.default(2).describe('pushing a part against the stops of a station (our estimate)'),
      accept: notNegative
        .default(0)
        .describe(
          'waiting for the word that a tack is good; 0: it comes with the end of the arc (our choice)',
        ),
      'part-present': notNegative
        .default(0.3)
        .describe('asking the sensor of the infeed whether a part lies there (our choice)'),
      'wire-check': notNegative
        .default(0.3)
        .describe('asking after an arc whether the wire is frozen to the tack (our choice)'),
      'earth-check': notNegative
        .default(0.5)
        .describe('asking before the first arc whether the earth path is closed (our choice)'),
      'hand-over': notNegative
        .default(0)
        .describe(
          'lifting out or handing over the finished tack-up at the end; 0 leaves it out of the time of the plan (our choice)',
        ),
    })
    .default({
      ...{ grip: 0.8, release: 1.2, 'tool-change': 8, clamp: 1.5, settle: 0.5 },
      ...{ 'proof-pull': 1.5, locate: 2, accept: 0 },
      ...{ 'part-present': 0.3, 'wire-check': 0.3, 'earth-check': 0.5, 'hand-over': 0 },
    })
    .describe('seconds; release includes letting go of any kind, but for what a gripper states on top'),
});

export type CellFile = z.infer<typeof cellFileSchema>;
