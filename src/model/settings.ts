import { z } from 'zod';
import { distortionSettingsSchema } from './distortion-settings.js';
import { weldSettingsSchema } from './weld-settings.js';
import { handshakeKindSchema } from './handshake-kind.js';
import { notNegative, positive, share } from './scalars.js';
import { tackSettingsSchema } from './tack-settings.js';
import { wishesSchema } from './wish.js';

export const objectiveTermSchema = z.enum(['regrips', 'tool-changes', 'distortion', 'time', 'wishes']);
export type ObjectiveTerm = z.infer<typeof objectiveTermSchema>;

/** The terms that an objective cannot do without. */
const NEEDED: readonly ObjectiveTerm[] = ['regrips', 'tool-changes', 'time'];

/** The objective as far as it can be told of parts without shapes, which have no distortion. */
export const withoutShapes = (objective: readonly ObjectiveTerm[]): readonly ObjectiveTerm[] =>
  objective.filter((term) => term !== 'distortion');

/** A reserve that is asked for: under 1 a part would fall, and none is worked out beyond 10. */
const factor = z.number().finite().min(1).max(10);

/** Degrees between the torch angles that are tried; less would try what no arm can tell apart. */
const angleStep = z.number().finite().min(1).max(90);

/** Defaults are our choice (common practice where nothing else is said) and are written into every plan. */
export const settingsSchema = z.strictObject({
  objective: z
    .array(objectiveTermSchema)
    .refine(
      (terms) => new Set(terms).size === terms.length && NEEDED.every((term) => terms.includes(term)),
      'must name regrips, tool-changes and time once each, and may name distortion and wishes once',
    )
    .default(['regrips', 'tool-changes', 'distortion', 'time'])
    .describe(
      'compared in this order; an earlier term is never traded for a later one. distortion is the predicted deviation of ' +
        'the toleranced distances beyond their limits, summed, in tenths of a millimetre rounded up; left out, it is ' +
        'predicted all the same but does not guide the plan. wishes is the weights of the soft wishes that are broken, summed; ' +
        'left out, it counts first, and without soft wishes it counts nothing',
    ),
  reserves: z
    .strictObject({
      gravity: factor.default(1.2).describe('factor by which the weight may grow'),
      disturbance: factor.default(1.5).describe('factor by which each disturbance may grow'),
      accident: factor
        .default(1.1)
        .describe(
          'factor by which an emergency stop and a proof pull may grow, and the weight after a loss of power: rare events, which stop the work anyhow (our choice)',
        ),
    })
    .default({ gravity: 1.2, disturbance: 1.5, accident: 1.1 }),
  loads: z
    .strictObject({
      'push-share': notNegative.default(0.08).describe('push as a share of the weight of the part'),
      'push-least': notNegative.default(10).describe('least push, N: a hose or a hand brushing past'),
      'torch-touch': notNegative
        .default(20)
        .describe('force of a torch that touches while placing a tack, N'),
      'wire-pull': notNegative
        .default(40)
        .describe(
          'pull of a wire that froze to its tack while the torch leaves, N; more and the arm should stop by itself (our choice)',
        ),
      'seating-push': notNegative
        .default(30)
        .describe(
          'push of a part on what it is seated against, along its approach, N: a force-limited stroke (our choice)',
        ),
      'sliding-drag': notNegative
        .default(15)
        .describe('drag of a part on what it slides along on its approach, N: scale and burrs (our choice)'),
      'transport-acceleration': notNegative
        .default(2)
        .describe('greatest acceleration of a carried part in programmed moves, m/s2 (common practice)'),
      'stop-acceleration': notNegative
        .default(3)
        .describe(
          'of a carried part in an emergency stop, m/s2: about 1 m/s lost in a third of a second (our choice; work it out from the stopping times that ISO 10218-1 asks the maker of the arm to state)',
        ),
      'lift-acceleration': notNegative
        .default(2)
        .describe(
          'of the finished tack-up when it is lifted out by the parts that stand on the table, upward or to a side, m/s2 (our choice: a hoist that starts)',
        ),
      'power-loss-seconds': positive
        .default(60)
        .describe(
          'how long a gripper that stores energy must keep a part after a loss of power: time to clear the cell and to secure the part by hand (our choice)',
        ),
      'proof-pull': positive
        .default(50)
        .describe(
          'pull on a part before it is let go, where its securing tacks would not survive the loss of any one, N (our choice)',
        ),
    })
    .default({
      'push-share': 0.08,
      'push-least': 10,
      'torch-touch': 20,
      'wire-pull': 40,
      'seating-push': 30,
      'sliding-drag': 15,
      'transport-acceleration': 2,
      'stop-acceleration': 3,
      'lift-acceleration': 2,
      'power-loss-seconds': 60,
      'proof-pull': 50,
    })
    .describe(
      'disturbances that a state must carry on top of gravity; 0, where it is allowed, leaves one out',
    ),
  reductions: z
    .strictObject({
      friction: share.default(0.75),
      pull: share.default(0.6),
      tack: share
        .default(0.5)
        .describe(
          'poor fusion of a tack that nobody has looked at (our choice); what heat leaves of its strength comes on top, see `tacks.cooling-constant`',
        ),
      'centre-shift': notNegative
        .default(1)
        .describe('of each centre of mass, to the side of the disturbance, mm'),
    })
    .default({ friction: 0.75, pull: 0.6, tack: 0.5, 'centre-shift': 1 }),
  steel: z
    .strictObject({
      'contact-friction': positive.max(1).default(0.2),
      'edge-allowance': notNegative.default(0.5),
    })
    .default({ 'contact-friction': 0.2, 'edge-allowance': 0.5 })
    .describe('friction of steel on steel; how far bearing stays off an edge, mm'),
  tacks: tackSettingsSchema,
  motion: z
    .strictObject({
      'approach-distance': positive.default(80).describe('length of the straight stroke into a grip, mm'),
      'torch-stroke': positive
        .default(30)
        .describe('length of the straight stroke onto a tack, along the wire, mm'),
      'touch-tolerance': positive.default(0.05).describe('overlap that counts as touching, mm'),
      clearance: positive
        .default(10)
        .describe(
          'least distance of the links of an arm from everything else, and of what it carries in moves that are not straight strokes, mm (our choice: a few times the accuracy of arms and parts)',
        ),
    })
    .default({ 'approach-distance': 80, 'torch-stroke': 30, 'touch-tolerance': 0.05, clearance: 10 }),
  torch: z
    .strictObject({
      'work-angle': notNegative
        .max(45)
        .default(10)
        .describe(
          "most degrees of the wire off the bisector of the joint's open side, across the seam: more feeds one plate only (common practice is about 10 to 15)",
        ),
      'work-step': angleStep
        .default(10)
        .describe('work angles that are tried are multiples of it, degrees (our choice)'),
      'travel-angle': notNegative
        .max(60)
        .default(15)
        .describe(
          'most degrees of the wire off square to the seam, along it, pushed or dragged: beyond about 20 the arc loses its gas cover (common practice)',
        ),
      'travel-step': angleStep
        .default(15)
        .describe('travel angles that are tried are multiples of it, degrees (our choice)'),
    })
    .default({ 'work-angle': 10, 'work-step': 10, 'travel-angle': 15, 'travel-step': 15 })
    .describe('window of the torch on a seam, and how finely it is tried; the turn about the wire is free'),
  rests: z
    .strictObject({
      margin: notNegative
        .default(5)
        .describe(
          'least distance of the centre of mass from what the part could tip over, mm: about twice a bad pick',
        ),
      tilt: notNegative
        .max(45)
        .default(10)
        .describe(
          'a part at rest comes back from this tilt, degrees: a table that is not level, a nudge in taking it',
        ),
    })
    .default({ margin: 5, tilt: 10 })
    .describe('when a part lies stably at the infeed and on the regrip table; both are our own choice'),
  grips: z
    .strictObject({
      density: z
        .int()
        .min(1)
        .max(21)
        .refine((density) => density % 2 === 1, 'must be odd, so that the middle of a face is tried')
        .default(3)
        .describe(
          'positions tried along each axis of a face; 5 halves the spacing of 3 and keeps its positions',
        ),
    })
    .default({ density: 3 })
    .describe('how finely grips are sampled: more find more, and take longer (our own choice)'),
  accuracy: z
    .strictObject({
      combine: z
        .enum(['root-sum-square', 'arithmetic'])
        .default('root-sum-square')
        .describe(
          'how contributions add up: root-sum-square for errors that do not depend on one another (common practice ' +
            'for tolerance chains, our choice), arithmetic for the worst case',
        ),
      'in-plane': positive
        .default(2)
        .describe(
          'how far off a part may sit along its contacts where no tolerance speaks of it, mm; our choice, as ISO ' +
            '13920 class B from 30 to 400 mm',
        ),
      'torch-to-seam': positive
        .default(1)
        .describe('how far the wire may miss the seam, mm; about one wire diameter, common practice'),
    })
    .default({ combine: 'root-sum-square', 'in-plane': 2, 'torch-to-seam': 1 }),
  distortion: distortionSettingsSchema,
  weld: weldSettingsSchema,
  handshakes: z
    .strictObject({
      'time-limit': positive.default(60).describe('seconds a wait lasts before its safe reaction'),
      kind: handshakeKindSchema
        .default('single-use')
        .describe(
          'single-use needs a flag for each handshake, but no state of an earlier one can pass for it, and the flags ' +
            'show where a stopped run stands (our choice); four-phase where inputs and outputs are few',
        ),
    })
    .default({ 'time-limit': 60, kind: 'single-use' }),
  budget: z
    .strictObject({
      steps: z
        .int()
        .min(1)
        .default(20000)
        .describe('search steps, of each search where several are needed: repeatable'),
      seconds: positive.optional().describe('wall-clock limit of all searches together: not repeatable'),
    })
    .default({ steps: 20000 }),
  seed: z.int().min(0).default(1),
  wishes: wishesSchema.describe('wishes about the plan, after those of the weldment file'),
});

export type Settings = z.infer<typeof settingsSchema>;

export const DEFAULT_SETTINGS: Settings = settingsSchema.parse({});
