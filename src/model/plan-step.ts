import { z } from 'zod';
import { cellArcSchema } from './arc.js';
import { workFrameSchema } from './frames.js';
import { RELEASE_ACTIONS, TAKE_ACTIONS } from './gripper.js';
import { planPoseSchema } from './plan-pose.js';
import { finite, nameSchema, notNegative, positive, sixSchema } from './scalars.js';
import { weldingPositionSchema } from './welding-position.js';

const jointsSchema = sixSchema.describe('joint angles, degrees');
const count = z.int().min(0);

const zoneSchema = z
  .enum(['work', 'stations'])
  .describe('work: around the weldment; stations: infeed and regrip table, where several robots fetch');

const stepBase = {
  n: z.int().min(1),
  stage: count.describe('0: before the first and after the last'),
  start: notNegative.describe('seconds'),
  end: notNegative,
  resume: z
    .literal(true)
    .optional()
    .describe(
      'a stopped program may be taken up again at this step: the robot is at home, carries nothing and is in no zone, or it holds a part still in its place; signals given by then stay given',
    ),
};

const branchSchema = z
  .strictObject({
    shoulder: z.enum(['front', 'back']).describe('the wrist centre is ahead of axis 1, or behind it'),
    elbow: z.enum(['up', 'down']).describe('as bent for an arm that reaches to that side'),
    wrist: z.enum(['plain', 'flipped']).describe('axis 5 on its positive side, or on the other'),
    turns: z
      .tuple([z.int(), z.int(), z.int(), z.int(), z.int(), z.int()])
      .optional()
      .describe('whole turns of each axis beyond -180 to 180 degrees; absent: none'),
  })
  .describe('which of the ways that an arm can take the pose');

const arcSchema = z
  .strictObject({
    process: cellArcSchema,
    current: positive.describe('A'),
    voltage: positive.describe('V'),
    speed: positive.describe('along the seam, mm/s'),
    before: notNegative.describe('seconds of gas pre-flow and arc start, before the torch moves'),
    after: notNegative.describe('seconds of crater fill and gas post-flow at the end'),
  })
  .describe('the seam data of the arc, in its welding position');

/** How an arm stands at the end of a step, beside its joints. */
const posed = {
  tool: nameSchema.describe('name of the tool frame: the gripper or torch on the flange, or `flange`'),
  frame: workFrameSchema.describe('work frame in which the pose is given'),
};

const takeActionSchema = z.enum(TAKE_ACTIONS).describe('what the gripper is told');
const releaseActionSchema = z.enum(RELEASE_ACTIONS).describe('what the gripper is told');

const plainStepSchema = z.discriminatedUnion('do', [
  z.strictObject({
    ...stepBase,
    do: z.literal('move'),
    path: z.enum(['joint', 'straight']),
    to: jointsSchema,
    ...posed,
    pose: planPoseSchema.describe('of the tool frame in the work frame, at the end of the move'),
    branch: branchSchema,
    speed: positive.describe(
      'of a joint move: share of the speeds and accelerations of the joints; of a straight move: mm/s of the flange along its path, less where a joint would be too fast, as the length of the step tells',
    ),
    acceleration: positive.optional().describe('of a straight move, mm/s2'),
    place: z.string().describe('what is at the end of the move'),
    via: z
      .literal(true)
      .optional()
      .describe('an intermediate point, so that arm and load stay clear of what stands around'),
  }),
  z.strictObject({ ...stepBase, do: z.literal('change-gripper'), to: nameSchema }),
  z
    .strictObject({ ...stepBase, do: z.literal('part-present'), part: nameSchema })
    .describe('a sensor of the infeed says that the part lies there; if not, stop before it is gone for'),
  z.strictObject({
    ...stepBase,
    do: z.literal('grip'),
    part: nameSchema,
    gripper: nameSchema,
    group: nameSchema.optional().describe('group of pads in use; absent: all pads of the gripper'),
    action: takeActionSchema,
    confirm: z.literal('part-held').describe('the step is over when the gripper says that it holds'),
  }),
  z
    .strictObject({ ...stepBase, do: z.literal('set-down'), part: nameSchema, action: releaseActionSchema })
    .describe('on the regrip table or the stand'),
  z
    .strictObject({ ...stepBase, do: z.literal('locate'), part: nameSchema })
    .describe('push the part against the stops of the regrip table or the stand'),
  z
    .strictObject({
      ...stepBase,
      do: z.literal('seat'),
      part: nameSchema,
      force: positive.describe('N, at most'),
      travel: positive.describe('mm, at most'),
      confirm: z.literal('contact').describe('the force is reached within the travel'),
    })
    .describe('press the part against its neighbours with limited force'),
  z
    .strictObject({ ...stepBase, do: z.literal('seam-search'), joint: z.string() })
    .describe('touch both parts of a joint to find its seam'),
  z.strictObject({ ...stepBase, do: z.literal('clamp'), part: nameSchema, clamp: nameSchema }),
  z
    .strictObject({ ...stepBase, do: z.literal('hold'), part: nameSchema })
    .describe('the part is in place and still'),
  z
    .strictObject({ ...stepBase, do: z.literal('proof-pull'), part: nameSchema, force: positive })
    .describe('pull at the part and watch that it does not move; if it does, keep holding and stop'),
  z
    .strictObject({ ...stepBase, do: z.literal('cool'), part: nameSchema })
    .describe('hold on while the securing tacks cool'),
  z.strictObject({ ...stepBase, do: z.literal('let-go'), part: nameSchema, action: releaseActionSchema }),
  z.strictObject({
    ...stepBase,
    do: z.literal('tack'),
    tack: z.string(),
    to: jointsSchema.describe('where the arc ends; the arm stays in its branch'),
    ...posed,
    from: planPoseSchema.describe('of the tool frame in the work frame where the arc starts'),
    pose: planPoseSchema.describe('where it ends; straight between the two'),
    length: positive.describe('mm'),
    leg: positive.describe('mm'),
    position: weldingPositionSchema,
    arc: arcSchema,
  }),
  z
    .strictObject({ ...stepBase, do: z.literal('wire-check'), tack: z.string() })
    .describe('the wire is free of the tack just laid; if it is frozen, stop before the torch is drawn back'),
  z
    .strictObject({ ...stepBase, do: z.literal('earth-check') })
    .describe('the earth path from the weldment to the power source is closed, before the first arc'),
  z.strictObject({ ...stepBase, do: z.literal('clean-nozzle') }).describe('at the cleaner of the robot'),
  z
    .strictObject({ ...stepBase, do: z.literal('hand-over') })
    .describe(
      'the finished tack-up is lifted out or handed over: every robot is done, at home and out of the work zone',
    ),
  z
    .strictObject({ ...stepBase, do: z.literal('turn'), to: finite.describe('index angle, degrees') })
    .describe(
      'turn the work table, before its stage, the shorter way; over when it is still. Every robot is out of the work zone and holds nothing there',
    ),
  z
    .strictObject({
      ...stepBase,
      do: z.literal('manual'),
      part: nameSchema,
      planned: positive.describe('seconds until the person confirms'),
      clamp: nameSchema.optional().describe('clamp of the table that the person closes on the part'),
      tacks: z.array(z.string()).describe('ids of those that the person lays, in their order'),
      confirm: z
        .literal('person')
        .describe('the step is over when the person has confirmed from outside the work zone'),
    })
    .describe(
      'a person sets, clamps and tacks the part. Every robot is at home, stopped, outside the work zone and holds nothing; none moves before the step is over',
    ),
  z.strictObject({ ...stepBase, do: z.literal('enter'), zone: zoneSchema }),
  z.strictObject({ ...stepBase, do: z.literal('leave'), zone: zoneSchema }),
  z.strictObject({ ...stepBase, do: z.literal('signal'), handshake: z.string() }),
  z.strictObject({
    ...stepBase,
    do: z.literal('await'),
    handshake: z.string(),
    at: z.string().describe('where the robot waits: the place at the end of its last move'),
  }),
]);

const accepted = {
  ...stepBase,
  do: z.literal('accept'),
  tack: z.string().describe('laid last; the arc data, or a camera, say whether it is good'),
};

const lastAcceptSchema = z.strictObject({ ...accepted, rework: z.array(z.never()).length(0) });

/** A step of a rework; its number counts in the rework, its times from the start of the step that accepts. */
const reworkStepSchema = z.discriminatedUnion('do', [...plainStepSchema.options, lastAcceptSchema]);

const acceptSchema = z
  .strictObject({
    ...accepted,
    rework: z
      .array(reworkStepSchema)
      .describe(
        'done only when the tack is reported bad: the tack is repeated at another site, and the torch comes back to where it was. ' +
          'Numbers and seconds count from this step. Empty, or when that tack is bad too: keep holding, stop all robots, call a person',
      ),
  })
  .describe('go on when the tack is good; nobody lets go meanwhile, since the next signal comes later');

export const stepSchema = z.discriminatedUnion('do', [...plainStepSchema.options, acceptSchema]);

export type Zone = z.infer<typeof zoneSchema>;
export type Step = z.infer<typeof stepSchema>;
export type ReworkStep = z.infer<typeof reworkStepSchema>;
