import { z } from 'zod';
import type { Pose } from '../geometry/pose.js';
import type { Vec3 } from '../geometry/vector.js';
import type { Arm, Joints } from '../kinematics/arm.js';
import type { LinkRadii } from '../kinematics/arm-body.js';
import type { Gripper } from './gripper.js';
import { gripperFileSchema } from './gripper-file.js';
import {
  besidePathSchema,
  finite,
  nameSchema,
  notNegative,
  pointSchema,
  positive,
  sixSchema,
  turnSchema,
  unitsSchema,
} from './scalars.js';
import type { WeldingPosition } from './welding-position.js';

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

const handlerSchema = z.strictObject({
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
const welderSchema = z.strictObject({
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
});

/** What a tack is laid with, where it is not what the process states for all. */
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
      .describe('the robot whose program turns the table; default: the welding robot'),
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
    arc: z.enum(['mag', 'mig', 'fcaw', 'tig', 'plasma', 'mma']).default('mag'),
    'start-seconds': notNegative.default(0.6).describe('gas pre-flow and arc start of each tack'),
    'end-seconds': notNegative.default(0.8).describe('crater fill and gas post-flow of each tack'),
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
    })
    .default({
      ...{ grip: 0.8, release: 1.2, 'tool-change': 8, clamp: 1.5, settle: 0.5 },
      ...{ 'proof-pull': 1.5, locate: 2 },
    })
    .describe('seconds; release includes letting go of any kind, but for what a gripper states on top'),
});

export type CellFile = z.infer<typeof cellFileSchema>;

interface RobotCommon {
  readonly id: string;
  readonly base: Pose;
  readonly arm: Arm;
  readonly home: Joints;
  readonly radii: LinkRadii;
  readonly straightSpeed: number;
  readonly straightAcceleration: number;
  /** How far the flange may be off a taught pose, +- mm. */
  readonly accuracy: number;
}

/** What an arm may carry, and the force and moment that it can hold against; moments about the wrist centre. */
export interface Payload {
  /** kg */
  readonly mass: number;
  /** N mm */
  readonly moment: number;
  /** N */
  readonly force: number;
  /** About axes 4, 5 and 6, kg m2; undefined for no limit. */
  readonly inertia?: readonly [number, number, number] | undefined;
}

export interface Handler extends RobotCommon {
  readonly duty: 'handle';
  readonly payload: Payload;
  /** Seating with limited force: N, mm, mm, s; undefined when the robot cannot. */
  readonly seating:
    | { readonly force: number; readonly travel: number; readonly leaves: number; readonly seconds: number }
    | undefined;
}

export interface Welder extends RobotCommon {
  readonly duty: 'weld';
  readonly torch: Torch;
  /** Finding a seam by touch: +- mm, s; undefined when the robot cannot. */
  readonly seamSearch: { readonly accuracy: number; readonly seconds: number } | undefined;
}

export type { Gripper };

export interface Torch {
  readonly id: string;
  /** Pose of the wire tip in the flange frame; its z axis is the wire's direction of feed. */
  readonly tip: Pose;
  readonly stickOut: number;
  readonly nozzleRadius: number;
  /** Of the nozzle as a cylinder; 0 when one cone stands for nozzle and body. */
  readonly nozzleLength: number;
  /** At the rear end of the nozzle; never less than that of the nozzle, nor more than at the end of the body. */
  readonly bodyFrontRadius: number;
  /** At `bodyLength` from the tip. */
  readonly bodyRadius: number;
  readonly bodyLength: number;
}

/** A, V and mm/s, where a welding position asks for others than the process states. */
export interface ProcessChange {
  readonly current?: number | undefined;
  readonly voltage?: number | undefined;
  readonly speed?: number | undefined;
}

/** A stand with an opening that a part bridges along y; see the file schema. Lengths in mm. */
export interface TwoSidedStand {
  readonly pose: Pose;
  readonly size: readonly [number, number];
  readonly opening: readonly [number, number];
  readonly overlap: number;
  readonly accuracy: number;
  readonly turnAccuracy: number;
}

/** A work table that turns about a vertical axis; degrees and seconds. */
export interface Turntable {
  /** In ascending order; 0 is one of them, and no two are a whole turn apart. */
  readonly angles: readonly number[];
  /** x and y of the axis in the cell, mm. */
  readonly axis: readonly [number, number];
  readonly speed: number;
  readonly acceleration: number;
  readonly settle: number;
  /** The robot whose program turns it. */
  readonly commander: string;
}

export interface Cell {
  readonly name: string;
  /** At least one, in the order of the file. */
  readonly handlers: readonly Handler[];
  readonly welder: Welder;
  readonly grippers: readonly Gripper[];
  /** Accuracies in the plane of a station: +- mm, and +- degrees about its vertical. */
  readonly infeed: { readonly pose: Pose; readonly accuracy: number; readonly turnAccuracy: number };
  /** Pose of the centre of the regrip table's top; its z axis is up. */
  readonly regrip: {
    readonly pose: Pose;
    readonly size: readonly [number, number];
    readonly accuracy: number;
    readonly turnAccuracy: number;
  };
  /** Undefined when the cell has none. */
  readonly twoSided: TwoSidedStand | undefined;
  /** Pose of the centre of the work table's top, at index angle 0; its z axis is up. */
  readonly table: {
    readonly pose: Pose;
    readonly size: readonly [number, number];
    readonly friction: number;
    readonly clamp: { readonly name: string; readonly force: number };
    /** How far the first part may be off its place, +- mm. */
    readonly firstPartAccuracy: number;
    /** Absent when the table stands still. */
    readonly turntable?: Turntable | undefined;
  };
  /** Pose of the weldment frame in the cell, with the table at index angle 0. */
  readonly weldmentPose: Pose;
  readonly keepOuts: readonly { readonly pose: Pose; readonly size: Vec3 }[];
  readonly process: {
    readonly current: number;
    readonly voltage: number;
    readonly speed: number;
    readonly arc: CellFile['process']['arc'];
    readonly startSeconds: number;
    readonly endSeconds: number;
    /** What differs in the positions that are allowed; undefined when all are and nothing differs. */
    readonly positions: { readonly [P in WeldingPosition]?: ProcessChange | undefined } | undefined;
  };
  readonly times: {
    readonly grip: number;
    readonly release: number;
    readonly toolChange: number;
    readonly clamp: number;
    readonly settle: number;
    readonly proofPull: number;
    readonly locate: number;
  };
}

/** Whether tacks may be laid in a welding position. */
export const positionAllowed = ({ process }: Cell, position: WeldingPosition): boolean =>
  process.positions === undefined || process.positions[position] !== undefined;

/** Current (A), voltage (V) and speed along the seam (mm/s) of tacks in a welding position that is allowed. */
export function processIn(
  { process }: Cell,
  position: WeldingPosition,
): { readonly current: number; readonly voltage: number; readonly speed: number } {
  const change = process.positions?.[position];
  return {
    current: change?.current ?? process.current,
    voltage: change?.voltage ?? process.voltage,
    speed: change?.speed ?? process.speed,
  };
}

/** Seconds from the command to let go until a gripper has let go. */
export const releaseTime = ({ times }: Cell, { releaseSeconds }: Gripper): number =>
  times.release + releaseSeconds;
