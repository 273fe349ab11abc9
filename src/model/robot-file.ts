import { z } from 'zod';
import {
  besidePathSchema,
  finite,
  nameSchema,
  notNegative,
  pointSchema,
  positive,
  sixSchema,
  turnSchema,
} from './scalars.js';

/** Arcs after which a nozzle is cleaned where nothing else is said; our choice. */
export const CLEANED_BY_HAND_EVERY = 20;

const sixPositive = z.tuple([positive, positive, positive, positive, positive, positive]);
const rangeSchema = z.tuple([finite, finite]).refine(([low, high]) => low < high, 'low must be under high');

const armSchema = z
  .strictObject({
    a1: finite,
    a2: finite,
    b: finite.default(0),
    c1: finite,
    c2: positive,
    c3: positive,
    c4: notNegative,
    offsets: sixSchema.default([0, 0, 0, 0, 0, 0]).describe('degrees'),
    signs: z
      .array(z.union([z.literal(1), z.literal(-1)]))
      .length(6)
      .default([1, 1, 1, 1, 1, 1]),
    limits: z
      .tuple([rangeSchema, rangeSchema, rangeSchema, rangeSchema, rangeSchema, rangeSchema])
      .describe('degrees'),
    speeds: sixPositive.describe('degrees/s'),
    accelerations: sixPositive.describe('degrees/s2'),
    coupled: z
      .boolean()
      .optional()
      .describe('joint 3 turns the forearm against the column; default: no, against the upper arm'),
    elbow: rangeSchema
      .refine(([low, high]) => high - low <= 360, 'must span one turn at most')
      .optional()
      .describe(
        'of a coupled arm: lowest and highest angle of the forearm against the upper arm (0: in line with c2), degrees',
      ),
  })
  .refine(({ coupled, elbow }) => coupled === true || elbow === undefined, {
    path: ['elbow'],
    error: 'must be left out unless the arm is `coupled`; the limits of joint 3 say the same',
  })
  .describe('six-axis arm with ortho-parallel base and spherical wrist, lengths in mm');

const linksSchema = z
  .strictObject({
    column: positive.optional().describe('from the foot of axis 1 to the shoulder'),
    'upper-arm': positive.optional().describe('from shoulder to elbow'),
    forearm: positive.optional().describe('from elbow to wrist centre'),
    wrist: positive.optional().describe('from wrist centre to flange'),
    'dress-pack': positive.optional().describe('hoses and cables, from flange to elbow; default: none'),
  })
  .default({})
  .describe(
    'radii of capsules that contain the links, mm; by default shares of c2 and the forearm together: 6 % column and upper arm, 5 % forearm, 4 % wrist (our estimate; measure your arm)',
  );

/** An arm whose lengths, offsets and signs are read off a robot description in the open URDF format. */
export const urdfArmSchema = z
  .strictObject({
    urdf: besidePathSchema.describe('URDF file, by its path from the folder of this file'),
    base: nameSchema
      .optional()
      .describe('link whose frame is the base frame; default: the one that hangs on no other'),
    tip: nameSchema
      .optional()
      .describe('link whose frame is the flange frame; default: the last one behind six turning joints'),
    limits: z
      .tuple([rangeSchema, rangeSchema, rangeSchema, rangeSchema, rangeSchema, rangeSchema])
      .optional()
      .describe('degrees; default: those of the URDF file'),
    speeds: sixPositive.optional().describe('degrees/s; default: those of the URDF file'),
    accelerations: sixPositive.describe('degrees/s2; URDF has none'),
  })
  .describe('an arm by its URDF file: it must be of the same kind');

const robotBase = {
  at: pointSchema.describe('base in the cell, mm'),
  turn: turnSchema.optional(),
  arm: z.union([armSchema, urdfArmSchema]),
  home: sixSchema.describe('joint angles of the waiting place between stations, degrees'),
  links: linksSchema,
  'straight-speed': positive.default(120).describe('speed of approach, retreat and torch strokes, mm/s'),
  'straight-acceleration': positive.default(600).describe('mm/s2'),
  accuracy: notNegative
    .default(0.1)
    .describe(
      'how far the flange may be off a taught pose, +- mm; common practice for taught poses, more for poses from a model',
    ),
};

export const handlerSchema = z.strictObject({
  duty: z.literal('handle'),
  ...robotBase,
  payload: z.strictObject({
    mass: positive.describe('gripper and part together, kg'),
    moment: positive.describe(
      'static moment of gripper and part about the wrist centre (c4 behind the flange), N·mm; also what a hold can resist there',
    ),
    inertia: z
      .tuple([positive, positive, positive])
      .optional()
      .describe('moment of inertia of gripper and part about axes 4, 5 and 6, kg·m2; default: no limit'),
    force: positive
      .optional()
      .describe('force that the arm can hold against, N; default: weight of the payload'),
  }),
  seating: z
    .strictObject({
      force: positive.describe('with which the part is pressed against its neighbours, N'),
      travel: positive.default(3).describe('largest gap that it closes, mm'),
      leaves: notNegative.default(0.2).describe('gap that burr and waviness leave, mm (our estimate)'),
      seconds: positive.default(1.5),
    })
    .optional()
    .describe('seating with limited force, when the arm or its gripper gives way; absent: it cannot'),
});
export const welderSchema = z.strictObject({
  duty: z.literal('weld'),
  ...robotBase,
  torch: nameSchema,
  'seam-search': z
    .strictObject({
      accuracy: notNegative.default(0.3).describe('with which the seam is found, +- mm (our estimate)'),
      seconds: positive.default(4).describe('for one joint, its touches included'),
    })
    .optional()
    .describe('touching both parts to find a seam before its first tack; absent: it cannot'),
  cleaning: z
    .strictObject({
      joints: sixSchema.describe(
        'posture in which the torch is at the cleaner, degrees; reached from home in one joint move. The cleaner itself is no keep-out, or the torch would meet it',
      ),
      every: z
        .int()
        .min(1)
        .default(CLEANED_BY_HAND_EVERY)
        .describe('most arcs from one cleaning to the next (our choice)'),
      seconds: positive.default(8).describe('of reaming and spraying (our estimate)'),
    })
    .optional()
    .describe('cleaning the nozzle between stages; absent: it is cleaned by hand'),
});

/** What a tack is laid with, where it is not what the process states for all. */
