import { z } from 'zod';
import {
  faceSchema,
  finite,
  nameSchema,
  notNegative,
  pointSchema,
  positive,
  restSchema,
  sixSchema,
} from './scalars.js';
import { settingsSchema } from './settings.js';
import { jointTypeSchema } from './weldment.js';
import { planDistortionSchema, stageDistortionSchema } from './plan-distortion.js';
import { handshakeSchema, handshakeSetSchema } from './plan-handshake.js';
import { codeFigures } from './code-figures.js';
import { framesSchema } from './frames.js';
import { manualStageSchema, workMistakes } from './plan-manual.js';
import { planWeldSchema } from './plan-weld.js';
import { planSubAssemblySchema } from './plan-sub-assembly.js';
import { wholeSchema } from './plan-whole.js';
import { planPoseSchema } from './plan-pose.js';
import { objectiveSchema, proofSchema } from './plan-proof.js';
import { safetySchema } from './plan-safety.js';
import { stepSchema } from './plan-step.js';
import { tackOrderSchema } from './plan-tack-order.js';
import { weldingPositionSchema } from './welding-position.js';
import { wishSchema } from './wish.js';

export type { PlanDistortion, StageDistortion } from './plan-distortion.js';
export type { Handshake, HandshakeSet } from './plan-handshake.js';
export type { ReworkStep, Step, Zone } from './plan-step.js';
export type { PlanFrames, WorkFrame } from './frames.js';
export type { PlanWeld, WeldRun } from './plan-weld.js';
export type { PlanPose } from './plan-pose.js';
export type { ManualPlanTack, PlanManual } from './plan-manual.js';

export const PLAN_FORMAT = 'tackwright-plan';
export const PLAN_VERSION = 1;

const poseSchema = planPoseSchema.describe(
  'in the cell frame; of what is on a work table that turns, with the table at the index angle of the stage',
);
const jointsSchema = sixSchema.describe('joint angles, degrees');
const count = z.int().min(0);

const inputSchema = z.strictObject({
  name: nameSchema,
  digest: z.string().describe('SHA-256 of the input in canonical form, hexadecimal'),
});

export const planSeamSchema = z.strictObject({
  id: z.string(),
  from: pointSchema.describe('start of the seam in the weldment frame'),
  to: pointSchema,
  open: pointSchema.describe('unit bisector of the open side, weldment frame'),
});

const planJointSchema = z.strictObject({
  id: z.string(),
  between: z.tuple([nameSchema, nameSchema]),
  type: jointTypeSchema,
  leg: positive.describe('of the final weld, mm'),
  origin: z.enum(['given', 'proposed']),
  seams: z.array(planSeamSchema),
});

const planGripSchema = z.strictObject({
  gripper: nameSchema,
  face: faceSchema,
  position: z.tuple([finite, finite]).describe('mm from the face centre, along the face axes'),
  turn: finite.describe('degrees about the face normal'),
  group: nameSchema.optional().describe('group of pads in use; absent: all pads of the gripper'),
});

const handlingSchema = z
  .strictObject({
    grip: planGripSchema,
    take: z.strictObject({
      from: z.enum(['infeed', 'regrip', 'two-sided']),
      rest: restSchema.describe('face the part lies on'),
      part: poseSchema.describe('of the part when it is taken'),
      approach: jointsSchema.describe('start of the straight stroke onto the part'),
      joints: jointsSchema,
      lifted: jointsSchema.describe('end of the straight lift with the part'),
    }),
    put: z.strictObject({
      to: z.enum(['regrip', 'two-sided', 'place']),
      rest: restSchema
        .nullable()
        .describe('face the part lies on at the regrip table or the stand; null at its final place'),
      part: poseSchema,
      approach: jointsSchema.describe('start of the straight stroke that brings the part'),
      joints: jointsSchema,
      retreat: jointsSchema.describe('end of the straight stroke away from the part'),
    }),
    carried: z
      .strictObject({
        case: z.string(),
        required: positive,
        reserve: notNegative.describe('capped at 10'),
      })
      .describe('what the grip carries least surely: its weight or its inertia, at both ends and at home'),
  })
  .describe('one grip: where the part is taken with it and where it is put');

const tackSchema = z.strictObject({
  id: z.string(),
  robot: nameSchema.describe('the welding robot that lays it'),
  joint: z.string(),
  seam: z.string(),
  start: notNegative.describe('mm along the seam from its `from` end'),
  length: positive,
  leg: positive,
  order: z.int().min(1).describe('in the stage'),
  phase: z.enum(['securing', 'completing']),
  strength: positive.describe(
    'temporary-strength model, whole tack, cold, N, before reductions: it carries the reserves and is no strength by any code',
  ),
  hot: z
    .strictObject({
      seconds: notNegative.describe('since its arc, at least'),
      temperature: finite.describe('where the arc ended, C, by the stated model of cooling (our estimate)'),
      factor: notNegative
        .max(1)
        .describe('share of its cold strength that its later half has (EN 1993-1-2 table D.1, from memory)'),
    })
    .describe(
      'how hot it is when it is first relied on: a securing tack when the part is let go, another one as its torch leaves it; later stages find it cold',
    ),
  ...codeFigures,
  position: weldingPositionSchema,
  torch: z.strictObject({
    start: poseSchema.describe(
      'of the wire tip where the arc starts, which may be at either end of the tack; z is the feed direction of the wire',
    ),
    end: poseSchema.describe('of the wire tip where the arc ends'),
    clear: jointsSchema.describe('start of the straight stroke onto the seam'),
    joints: jointsSchema.describe('where the arc starts'),
    jointsEnd: jointsSchema,
    leave: jointsSchema.describe('end of the straight stroke away from the seam'),
  }),
});

const reworkSchema = z
  .strictObject({
    instead: z.string().describe('a tack of the stage'),
    tack: tackSchema.nullable().describe('on the same seam, with order and phase of the other; null: none'),
    none: z
      .enum(['no-site', 'torch-blocked', 'no-way', 'arm-meets'])
      .optional()
      .describe(
        'why there is none. no-site: no candidate on the seam keeps `tacks.rework-gap` from every other tack and stays out of the way of later parts; ' +
          'torch-blocked: the torch gets at none of them as things stand; no-way: it finds no way from tack to tack; arm-meets: another robot might be in its way',
      ),
  })
  .describe('what is done when a tack is reported bad');

const reserveSchema = z.strictObject({
  state: z
    .enum([
      'arriving',
      'standing',
      'held',
      'tacking',
      'one-let-go',
      'let-go',
      'power-lost',
      'one-tack-lost',
      'complete',
      'turning',
      'lifted-out',
    ])
    .describe(
      'arriving: the parts in place while the next one comes; standing: the newcomer by itself before an earlier part is held; held: before the first tack; power-lost: the same without the hold of a gripper that keeps nothing; tacking: held, after any securing tack; one-let-go: the earlier part let go, the newcomer still held; let-go: with the securing tacks; one-tack-lost: with any one of them missing; complete: with all; turning: on the table, before a stage at another index angle; lifted-out: the finished tack-up',
    ),
  case: z.string(),
  required: positive,
  reserve: notNegative.describe('capped at 10'),
  weakest: z.string().describe('what gives out first; empty when nothing does below the cap'),
});

const alsoHeldSchema = z.strictObject({
  robot: nameSchema,
  part: nameSchema.describe('joined in an earlier stage'),
  grip: planGripSchema,
  approach: jointsSchema
    .nullable()
    .describe('start of the straight stroke onto the part in its place; null: held since it was brought'),
  joints: jointsSchema,
  retreat: jointsSchema.describe('end of the straight stroke away from it'),
});

const powerLossSchema = z
  .strictObject({
    part: nameSchema,
    gripper: nameSchema,
    kind: z.enum(['must-stand', 'stored-seconds', 'exclusion-zone']),
    seconds: positive.nullable().describe('how long the pull is kept; null: without end, or not relied on'),
    zone: z
      .strictObject({
        at: z
          .tuple([finite, finite])
          .describe('x and y in the cell, with the table at the index angle of the stage, mm'),
        radius: positive.describe('mm; an estimate of how far the part may topple'),
      })
      .nullable()
      .describe('where nobody may be while the part is held; null where it cannot fall'),
  })
  .describe('what a loss of power or air means while the part is held');

export const remedySchema = z
  .enum(['locate', 'seat', 'seam-search'])
  .describe(
    'locate: the part is pushed against the stops of the station where it is last set down; seat: it is ' +
      'pressed against its neighbours with limited force; seam-search: the torch finds each joint before its first tack',
  );

const accuracySchema = z
  .strictObject({
    direction: z
      .enum(['gap', 'in-plane', 'tilt', 'torch'])
      .describe(
        'gap: square to the contact; in-plane: along it; tilt: the gap at the far end of it; torch: wire to seam',
      ),
    with: nameSchema.describe('the part in place that it concerns'),
    chain: z.array(z.strictObject({ source: z.string(), mm: notNegative })).describe('with the remedy'),
    total: notNegative.describe('of the chain, combined as the settings say, mm'),
    limit: notNegative.describe('mm'),
    remedy: remedySchema.nullable().describe('null: the direction holds without one'),
    without: notNegative.nullable().describe('the total without the remedy, mm'),
  })
  .describe('the worst contact or joint in one direction');

const wholeStageSchema = z.strictObject({
  number: z.int().min(1),
  turn: finite
    .optional()
    .describe(
      'index angle of the work table in this stage, degrees; absent: 0, as for a table that stands still. It stands at that of the first stage beforehand, and turns between two stages whose angles differ',
    ),
  part: nameSchema,
  manual: manualStageSchema.optional(),
  robot: nameSchema.nullable().describe('brings the part; null: a person sets it, see `manual`'),
  handling: z
    .array(handlingSchema)
    .describe(
      'the first takes it from the infeed, the last puts it in place; empty exactly in a stage that is `manual`',
    ),
  approach: z
    .strictObject({
      direction: pointSchema.describe(
        'of travel, unit, cell frame, with the table at the index angle of the stage',
      ),
      distance: positive,
    })
    .nullable()
    .describe('null exactly in a stage that is `manual`'),
  held: nameSchema.nullable().describe('robot that holds the part while its securing tacks are laid'),
  alsoHeld: alsoHeldSchema
    .optional()
    .describe('an earlier part that is held too while the securing tacks are laid'),
  stands: z
    .enum(['clamped', 'free-standing', 'tacked', 'held'])
    .describe('how it stands once let go; held: it is not let go before the next part is tacked to it'),
  standsOn: z
    .strictObject({
      table: z.boolean().describe('the work table'),
      parts: z.array(nameSchema).describe('in the order in which they joined'),
    })
    .optional()
    .describe('what bears it from below while it is free-standing; absent otherwise'),
  proofPull: positive
    .nullable()
    .describe('N by which the part held is pulled at before it is let go; null: its tacks may lose any one'),
  powerLoss: z.array(powerLossSchema).describe('one entry for each part that is held; empty for none'),
  remedies: z.array(remedySchema).describe('what is done because a direction would fail without it'),
  accuracy: z
    .array(accuracySchema)
    .describe('at most one entry a direction; empty for the first part and for one that a person sets'),
  tacks: z.array(tackSchema).describe('laid by robots; none in a stage that is `manual`, which has its own'),
  tackOrder: tackOrderSchema.optional(),
  sidesMissed: z
    .array(z.string())
    .describe(
      'tacks of double-sided joints that do not lie to those on the other side as `tacks.sides` wishes: paired, with none opposite; staggered, with one that faces them',
    ),
  rework: z.array(reworkSchema).describe('one entry for each tack, in their order'),
  reserves: z.array(reserveSchema),
  distortion: stageDistortionSchema,
});

export const stageSchema = wholeStageSchema.superRefine((stage, { addIssue }) => {
  for (const { key, must } of workMistakes(stage)) addIssue({ code: 'custom', path: [key], message: must });
});

const activitySchema = z.strictObject({
  robot: nameSchema,
  stage: count,
  what: z.string(),
  start: notNegative,
  end: notNegative,
  critical: z.boolean(),
});

const head = {
  format: z.literal(PLAN_FORMAT),
  version: z.literal(PLAN_VERSION),
  weldment: inputSchema,
  settings: settingsSchema,
  objective: z.array(objectiveSchema),
  proof: proofSchema,
  wishes: z
    .array(
      z.strictObject({
        wish: wishSchema,
        from: z.enum(['weldment', 'settings']).describe('the file that states it'),
        kept: z.boolean().describe('false only of a soft wish'),
      }),
    )
    .optional()
    .describe('every wish of the weldment file, then of the settings; absent where nothing is wished'),
  rulesNotApplied: z.array(z.strictObject({ rule: z.string(), why: z.string() })),
  warnings: z.array(z.string()),
  cautions: z.array(z.string()),
};

/** What a plan and the plans of its sub-assemblies have alike has a name of its own in the JSON Schema. */
const named = <T extends z.ZodType>(id: string, schema: T): T => schema.meta({ id });

const geometric = {
  ...head,
  settings: named('settings', settingsSchema),
  kind: z.literal('geometric'),
  cell: inputSchema,
  joints: z.array(planJointSchema),
  stages: z.array(named('stage', stageSchema)),
  frames: framesSchema,
  handshakes: z.array(handshakeSchema),
  handshakeSet: handshakeSetSchema,
  programs: z.array(
    z.strictObject({
      robot: nameSchema,
      duty: z.enum(['handle', 'weld']),
      steps: z.array(named('step', stepSchema)),
    }),
  ),
  timeline: z.strictObject({
    makespan: notNegative.describe('seconds'),
    bound: notNegative.describe(
      'no other order in which robots go first at the stations, or where their arms would meet, ends earlier, with this order of the parts and these steps; seconds',
    ),
    choices: count.describe('pairs of such uses of which either could have been first'),
    activities: z.array(activitySchema),
  }),
  distortion: planDistortionSchema,
  weld: planWeldSchema.optional().describe('present where it was asked for'),
  safety: named('safety', safetySchema),
};

/** The plan of a sub-assembly, as a weldment of its own; without sub-assemblies of its own. */
export const nestedPlanSchema = z.strictObject(geometric);

export const geometricPlanSchema = z.strictObject({
  ...geometric,
  subAssemblies: z
    .array(planSubAssemblySchema(nestedPlanSchema))
    .min(1)
    .optional()
    .describe(
      'what is tacked apart first, each by its own plan in the order given, and then joins as the part of its name; absent where there is nothing of the kind',
    ),
  whole: wholeSchema
    .optional()
    .describe('present where there are sub-assemblies, or the planner was to look for some'),
});

export const abstractPlanSchema = z.strictObject({
  ...head,
  kind: z.literal('abstract'),
  stages: z.array(
    z.strictObject({
      number: z.int().min(1),
      part: nameSchema,
      gripper: z.string().nullable(),
      regrips: count,
      tacks: count,
      seconds: notNegative.describe('of handling, tool change and tacks together'),
    }),
  ),
});

export const planSchema = z.discriminatedUnion('kind', [geometricPlanSchema, abstractPlanSchema]);

export type Plan = z.infer<typeof planSchema>;
export type GeometricPlan = z.infer<typeof geometricPlanSchema>;
export type NestedPlan = z.infer<typeof nestedPlanSchema>;
export type PlanSubAssembly = NonNullable<GeometricPlan['subAssemblies']>[number];
export type AbstractPlan = z.infer<typeof abstractPlanSchema>;
export type PlanHead = Pick<GeometricPlan, keyof typeof head>;
export type Stage = z.infer<typeof stageSchema>;
export type AlsoHeldPart = z.infer<typeof alsoHeldSchema>;
export type PlanPowerLoss = z.infer<typeof powerLossSchema>;
export type Handling = z.infer<typeof handlingSchema>;
export type PlanGrip = z.infer<typeof planGripSchema>;
export type PlanTack = z.infer<typeof tackSchema>;
export type PlanJoint = z.infer<typeof planJointSchema>;
export type PlanRework = z.infer<typeof reworkSchema>;
export type PlanReserve = z.infer<typeof reserveSchema>;
export type Remedy = z.infer<typeof remedySchema>;
export type PlanAccuracy = z.infer<typeof accuracySchema>;
export type PlanWish = NonNullable<PlanHead['wishes']>[number];
export type Activity = z.infer<typeof activitySchema>;
export type Proof = z.infer<typeof proofSchema>;
