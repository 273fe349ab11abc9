import { z } from 'zod';
import { finite, nameSchema, positive } from './scalars.js';

const count = z.int().min(0);

export const witnessSchema = z
  .strictObject({
    robots: count,
    states: count.describe('explored'),
    complete: z
      .boolean()
      .describe(
        'false: more states than are explored, so that only what happens before what proves the properties',
      ),
    reduction: z
      .enum(['none', 'unseen-events-first'])
      .describe(
        'none: every interleaving; unseen-events-first: events on which no property depends happen as soon as they ' +
          'can, and only the others are interleaved',
      ),
  })
  .describe('the second witness of the proof: the runs of the programs, explored state by state');

export type Witness = z.infer<typeof witnessSchema>;

export const faultKindSchema = z
  .enum([
    'signal-late',
    'signal-too-late',
    'signal-lost',
    'tack-bad',
    'second-tack-bad',
    'part-missing',
    'grip-unconfirmed',
    'seat-short',
    'pull-moves',
    'wire-stuck',
    'person-silent',
    'robot-stopped',
    'power-lost',
  ])
  .describe(
    'signal-late: within the time limit; signal-too-late: after it; tack-bad: reported so; second-tack-bad: also the one laid instead; ' +
      'part-missing: none to take at the station; grip-unconfirmed: the gripper does not say that it has the part; seat-short: seating does not ' +
      'come to contact; pull-moves: the part gives way to a proof pull; wire-stuck: the wire is frozen to the tack; person-silent: the person who sets a part does not confirm; robot-stopped: one robot stops; ' +
      'power-lost: power, air and current of all robots and grippers at once',
  );

const reactionSchema = z
  .strictObject({
    stop: z
      .enum(['none', 'one', 'all'])
      .describe('who stops; one: the robot itself, the others go on until they wait for it'),
    arcs: z
      .enum(['burn-on', 'own-out', 'all-out'])
      .describe('burn-on: each to the end of its tack; own-out: that of the robot goes out as it stops'),
    torch: z.enum(['goes-on', 'stays', 'drawn-back']),
    person: z.boolean().describe('whether a person is called'),
    then: z.enum(['go-on', 'repeat-tack', 'wait-for-person']),
  })
  .describe('whatever it is, no gripper lets go');

const endSchema = z
  .strictObject({
    state: z
      .enum(['station', 'with-person', 'held', 'standing', 'drop-zone'])
      .describe(
        'station: at infeed, regrip table or stand, or still to be put there, or to be brought by a person; with-person: a person is at it, who holds it or has clamped it; standing: in its place with nobody holding it, as its stage proves; ' +
          'drop-zone: it may fall, where nobody may be',
      ),
    parts: z.array(nameSchema).min(1),
    stands: z.enum(['clamped', 'free-standing', 'tacked']).optional(),
    gripper: nameSchema.optional().describe('that holds, or held, the part'),
    seconds: positive
      .nullable()
      .optional()
      .describe(
        'how long the gripper keeps its pull when power is lost; null: without end; absent: it has power',
      ),
    while: z
      .enum(['carried', 'held'])
      .optional()
      .describe(
        'drop zone of a part on its way (`dropZones`), or held in its place (`powerLoss` of its stage)',
      ),
  })
  .describe('where parts are in the end');

const faultSchema = z
  .strictObject({
    fault: faultKindSchema,
    robot: nameSchema.describe('whose step it strikes'),
    steps: z
      .array(z.tuple([z.int().min(1), z.int().min(1)]))
      .min(1)
      .describe('first and last number of each run of steps'),
    reaction: reactionSchema,
    ends: z.array(endSchema),
    rows: count.describe('faults executed: one for each step'),
    situations: count.describe('in how many positions of the other robots'),
  })
  .describe('faults with one reaction and the same ends');

const dropZoneSchema = z
  .strictObject({
    part: nameSchema,
    gripper: nameSchema,
    stage: z.int().min(1),
    from: z.tuple([finite, finite]).describe('lowest x and y in the cell, mm'),
    to: z.tuple([finite, finite]).describe('highest x and y in the cell, mm'),
  })
  .describe(
    'where nobody may be while a part is carried by a gripper that keeps nothing when power is lost: under the way of the part, and as far to all sides as ' +
      'it is long across corners; an estimate, since a part may bounce, slide or roll',
  );

/** What the proof of the programs says. */
export const safetySchema = z.strictObject({
  properties: z
    .array(z.string())
    .describe('proved of every run of the nominal programs, by what happens before what'),
  witness: witnessSchema,
  faults: z
    .array(faultSchema)
    .describe('every single fault of these kinds at every step that it can strike; all were executed'),
  faultRows: count.describe('rows of that table, taken together'),
  dropZones: z.array(dropZoneSchema),
  notCovered: z.string(),
});

export type Safety = z.infer<typeof safetySchema>;
export type Fault = z.infer<typeof faultSchema>;
export type FaultKind = Fault['fault'];
export type FaultReaction = Fault['reaction'];
export type FaultEnd = Fault['ends'][number];
export type DropZone = z.infer<typeof dropZoneSchema>;
