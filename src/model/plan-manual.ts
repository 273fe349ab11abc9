import { z } from 'zod';
import { codeFigures } from './code-figures.js';
import { nameSchema, notNegative, positive } from './scalars.js';

const manualTackSchema = z
  .strictObject({
    id: z.string(),
    joint: z.string(),
    seam: z.string(),
    start: notNegative.describe('mm along the seam from its `from` end'),
    length: positive,
    leg: positive,
    order: z.int().min(1).describe('in the stage'),
    strength: positive.describe('temporary-strength model, whole tack, cold, N, before reductions'),
    ...codeFigures,
  })
  .describe('laid by the person; whether hand and torch get there is not checked');

export const manualStageSchema = z
  .strictObject({
    seconds: positive.describe('planned, from all robots at home until the person confirms'),
    clamp: nameSchema
      .nullable()
      .describe('clamp of the table that the person closes on the part; null: none, as for later parts'),
    tacks: z
      .array(manualTackSchema)
      .describe(
        'that the person lays: by the same rules of length, pitch, ends and number as those of robots; from the end of the stage on they count like these',
      ),
  })
  .describe(
    'a person sets, clamps and tacks the part; until the stage ends the person, or what the person clamps with, holds it, and no reserve is claimed for it. All robots are at home, stopped, outside the work zone and hold nothing',
  );

export type PlanManual = z.infer<typeof manualStageSchema>;
export type ManualPlanTack = z.infer<typeof manualTackSchema>;

/** What the work of robots is in a stage, as far as it says whether there is any. */
interface StageWork {
  readonly manual?: PlanManual | undefined;
  readonly robot: string | null;
  readonly approach: object | null;
  readonly held: string | null;
  readonly alsoHeld?: object | undefined;
  readonly proofPull: number | null;
  readonly handling: readonly unknown[];
  readonly powerLoss: readonly unknown[];
  readonly remedies: readonly unknown[];
  readonly accuracy: readonly unknown[];
  readonly tacks: readonly unknown[];
  readonly rework: readonly unknown[];
}

const NONE = ['robot', 'approach', 'held', 'proofPull'] as const;
const EMPTY = ['handling', 'powerLoss', 'remedies', 'accuracy', 'tacks', 'rework'] as const;

/** What a stage in which a person sets the part must not have, and any other must. */
export function workMistakes(stage: StageWork): readonly { readonly key: string; readonly must: string }[] {
  if (stage.manual !== undefined)
    return [
      ...NONE.filter((key) => stage[key] !== null).map((key) => ({ key, must: 'be null' })),
      ...EMPTY.filter((key) => stage[key].length > 0).map((key) => ({ key, must: 'be empty' })),
      ...(stage.alsoHeld === undefined ? [] : [{ key: 'alsoHeld', must: 'be absent' }]),
    ].map(({ key, must }) => ({ key, must: `must ${must} in a stage that is \`manual\`` }));
  return [
    ...(stage.robot === null ? ['robot'] : []),
    ...(stage.approach === null ? ['approach'] : []),
    ...(stage.handling.length === 0 ? ['handling'] : []),
  ].map((key) => ({ key, must: 'must be given in a stage that is not `manual`' }));
}
