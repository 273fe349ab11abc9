import { z } from 'zod';
import type { Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Material } from './material.js';
import {
  directionSchema,
  faceSchema,
  finite,
  nameSchema,
  notNegative,
  pairSchema,
  pointSchema,
  positive,
  restSchema,
  turnSchema,
  unitsSchema,
  type FaceName,
} from './scalars.js';
import { SHAPE_KEYS, shapeFields, type MemberPair, type Shape } from './shape.js';
import { subAssembliesSchema, type SubAssemblyWish } from './sub-assembly.js';
import { wishesSchema, type Wisher } from './wish.js';

const givenGripSchema = z
  .strictObject({
    gripper: nameSchema,
    face: faceSchema,
    position: z
      .tuple([finite, finite])
      .default([0, 0])
      .describe('mm from the face centre, along the face axes'),
    turn: finite.default(0).describe('degrees about the face normal'),
    group: nameSchema.optional().describe('group of pads of the gripper to use; default: all its pads'),
  })
  .describe('a grip to consider; when a part gives grips, only these are considered');

/** A part that a person sets, clamps and tacks. */
export const manualSchema = z.strictObject({
  seconds: positive
    .max(86_400)
    .default(300)
    .describe(
      'from the moment when every robot is at home until the person confirms, at most a day; default our choice, to be measured at the cell',
    ),
  within: notNegative
    .default(0.5)
    .describe(
      'how far off its place the part may be once the person has fitted it up and measured, +- mm; default our choice. Parts that robots bring beside it later count with it',
    ),
});

const partSchema = z
  .strictObject({
    ...shapeFields,
    at: pointSchema.describe('centre of the shape in the weldment frame, mm'),
    turn: turnSchema.optional(),
    material: z.string().optional(),
    mass: positive.optional().describe('kg; given wins over the mass derived from the shape'),
    cut: notNegative
      .optional()
      .describe('how far an edge may be off its nominal place, +- mm; default: `cut` of the weldment'),
    rest: restSchema
      .optional()
      .describe('the face it lies on at the infeed; default: its lowest stable rest'),
    grips: z.array(givenGripSchema).min(1).optional(),
    approach: z
      .array(directionSchema)
      .optional()
      .describe('further directions of travel into place to consider'),
    manual: z
      .union([z.boolean(), manualSchema])
      .optional()
      .describe(
        'a person sets, clamps and tacks the part while all robots are at home; absent: robots bring and tack it',
      ),
  })
  .refine((p) => SHAPE_KEYS.filter((key) => p[key] !== undefined).length === 1, {
    error: `needs exactly one shape: ${SHAPE_KEYS.slice(0, -1).join(', ')} or ${SHAPE_KEYS.at(-1)}`,
    // Also when another key is wrong, so that all issues of a part are told in one run.
    when: ({ value }) => typeof value === 'object' && value !== null,
  });

export const jointTypeSchema = z.enum(['fillet', 'butt', 'corner', 'lap', 'edge']);

const jointSchema = z.strictObject({
  between: pairSchema,
  type: jointTypeSchema.default('fillet'),
  leg: positive.describe('leg length of the weld, mm').default(4),
  sides: z
    .enum(['one', 'both', 'all'])
    .default('both')
    .describe(
      'one: the longest seam (or the one that opens toward `open`); both: it and the seam opposite; all: every seam',
    ),
  open: directionSchema.optional().describe('the way the seam of a one-sided joint opens'),
});

const blockingSchema = z
  .strictObject({ part: nameSchema, by: z.array(nameSchema).min(1) })
  .describe('`part` cannot join once any part in `by` is in place');
const needsSchema = z
  .strictObject({ part: nameSchema, after: z.array(nameSchema).min(1) })
  .describe('`part` joins only after every part in `after`');
const contactSchema = z.union([
  pairSchema,
  z.strictObject({ between: pairSchema }).transform((c) => c.between),
]);

/** A weldment file with shapes. */
export const weldmentFileSchema = z.strictObject({
  weldment: nameSchema,
  units: unitsSchema,
  material: z.string().default('S235'),
  parts: z.record(nameSchema, partSchema),
  cut: notNegative
    .default(0.2)
    .describe(
      'how far a cut edge may be off its nominal place, +- mm; common practice for laser, more for a saw. Plates are cut all around, sections and bars at their ends, blocks and prisms on every side',
    ),
  contacts: z.array(contactSchema).optional(),
  joints: z.array(jointSchema).optional(),
  blocking: z.array(blockingSchema).default([]),
  needs: z.array(needsSchema).default([]),
  'fit-up': z
    .strictObject({
      gap: notNegative.default(1).describe('largest gap that may still be tacked, mm'),
      insertion: notNegative
        .default(0.5)
        .describe('clearance a side needed to slide in between two faces, mm'),
    })
    .default({ gap: 1, insertion: 0.5 }),
  tolerances: z
    .array(
      z.strictObject({
        name: nameSchema,
        from: nameSchema,
        to: nameSchema,
        'iso-13920': z.enum(['A', 'B', 'C', 'D']),
      }),
    )
    .default([])
    .describe(
      'how far off its place each of the two parts may be put, and how far tacking may shift one as seen from the other: a share of the general tolerance (`distortion.limit-share` of the settings)',
    ),
  first: nameSchema.optional().describe('the part that shall be placed first'),
  wishes: wishesSchema.describe('wishes about the plan'),
  'sub-assemblies': subAssembliesSchema,
});

const waySchema = z.strictObject({
  gripper: nameSchema,
  regrips: z.int().min(0).default(0),
  seconds: notNegative.default(0),
});

/** Where a weldment file without shapes says nothing: tacks of a joint, and seconds. Our choice. */
export const ABSTRACT_DEFAULTS = { tacks: 2, tack: 4, toolChange: 12 } as const;

/** A weldment file without shapes: the contact graph, the joint list and the blocking relation themselves. */
export const abstractFileSchema = z.strictObject({
  weldment: nameSchema,
  units: unitsSchema,
  parts: z.record(
    nameSchema,
    z.strictObject({ mass: positive.optional(), ways: z.array(waySchema).min(1).optional() }),
  ),
  contacts: z.array(contactSchema).optional().describe('absent: any part may follow any other'),
  joints: z
    .array(z.strictObject({ between: pairSchema, tacks: z.int().min(1).default(ABSTRACT_DEFAULTS.tacks) }))
    .default([]),
  blocking: z.array(blockingSchema).default([]),
  needs: z.array(needsSchema).default([]),
  times: z
    .strictObject({
      tack: notNegative.default(ABSTRACT_DEFAULTS.tack),
      'tool-change': notNegative.default(ABSTRACT_DEFAULTS.toolChange),
    })
    .default({ tack: ABSTRACT_DEFAULTS.tack, 'tool-change': ABSTRACT_DEFAULTS.toolChange })
    .describe('seconds for one tack and for one tool change'),
  first: nameSchema.optional(),
  wishes: wishesSchema.describe('wishes about the plan: before, first, grip by its gripper, regrips'),
});

export type WeldmentFile = z.infer<typeof weldmentFileSchema>;
export type AbstractFile = z.infer<typeof abstractFileSchema>;
export type Manual = z.infer<typeof manualSchema>;
export type JointType = z.infer<typeof jointTypeSchema>;

export interface GivenGrip {
  readonly gripper: string;
  readonly face: FaceName;
  readonly position: readonly [number, number];
  /** Radians about the face normal. */
  readonly turn: number;
  /** Group of pads to use; absent: all. */
  readonly group?: string | undefined;
}

export interface Part {
  readonly id: string;
  readonly shape: Shape;
  /** Pose of the shape's frame in the weldment frame. */
  readonly pose: Pose;
  readonly material: Material;
  /** Mass in kg when the file gives it. */
  readonly massGiven: number | undefined;
  /** How far an edge may be off its nominal place, +- mm. */
  readonly cut: number;
  readonly rest: FaceName | undefined;
  readonly grips: readonly GivenGrip[] | undefined;
  /** Further directions of travel into place, unit vectors in the weldment frame. */
  readonly approaches: readonly Vec3[];
  /** Set, clamped and tacked by a person; absent for a part that robots bring and tack. */
  readonly manual?: Manual | undefined;
}

export interface JointWish {
  readonly between: readonly [string, string];
  readonly type: JointType;
  readonly leg: number;
  readonly sides: 'one' | 'both' | 'all';
  readonly open: Vec3 | undefined;
  /** Of a weldment with groups: between which members, as the file names the two parts. */
  readonly members?: MemberPair;
}

/** How far two parts may be put off their places. */
export type ToleranceWish = WeldmentFile['tolerances'][number] & {
  /** Of a weldment with groups: the members meant, of `from` and of `to`. */
  readonly members?: MemberPair;
};

/** Order relations and wishes that a file may give, shared by both kinds of weldment. */
export interface OrderRelations extends Wisher {
  readonly blocking: readonly { readonly part: string; readonly by: readonly string[] }[];
  readonly needs: readonly { readonly part: string; readonly after: readonly string[] }[];
  readonly first: string | undefined;
}

export interface Weldment extends OrderRelations {
  readonly kind: 'geometric';
  readonly name: string;
  readonly parts: readonly Part[];
  /** Pairs given as contacts, of a group by the names of its members; undefined when they shall be derived. */
  readonly contacts: readonly (readonly [string, string])[] | undefined;
  /** Joints given; undefined when they shall be proposed from the contacts. */
  readonly joints: readonly JointWish[] | undefined;
  readonly fitUp: { readonly gap: number; readonly insertion: number };
  readonly tolerances: readonly ToleranceWish[];
  /** Absent where the file says nothing of it: no sub-assemblies. */
  readonly subAssemblies?: SubAssemblyWish | undefined;
}

export interface Way {
  readonly gripper: string;
  readonly regrips: number;
  readonly seconds: number;
}

export interface AbstractWeldment extends OrderRelations {
  readonly kind: 'abstract';
  readonly name: string;
  readonly parts: readonly {
    readonly id: string;
    readonly mass: number | undefined;
    readonly ways: readonly Way[];
  }[];
  readonly contacts: readonly (readonly [string, string])[] | undefined;
  readonly joints: readonly { readonly between: readonly [string, string]; readonly tacks: number }[];
  readonly times: { readonly tack: number; readonly toolChange: number };
}

export type AnyWeldment = Weldment | AbstractWeldment;
