import { compareText } from '../../base/order.js';
import type { AbstractPlan, Plan, Stage } from '../../model/plan.js';
import { changesOf, type Change, type Told } from './sides.js';

/** What of a stage is compared under which heading. */
export const TOPICS = ['grip', 'hold', 'way', 'fit-up', 'work'] as const;
export type Topic = (typeof TOPICS)[number];

/** What differs of the stages in which a part joins. */
export interface StageDifference {
  readonly part: string;
  readonly topic: Topic;
  readonly changes: readonly Change[];
}

type Traits = Readonly<Partial<Record<Topic, Readonly<Record<string, Told>>>>>;

function gripTraits({ robot, handling, manual }: Stage): Readonly<Record<string, Told>> {
  const last = handling.at(-1)?.grip;
  if (manual !== undefined || last === undefined) return { robot: 'a person' };
  return {
    ...{ robot, gripper: last.gripper, face: last.face, position: last.position, turn: last.turn },
    pads: last.group ?? 'all',
    regrips: handling.length - 1,
  };
}

const holdTraits = ({
  held,
  alsoHeld,
  stands,
  standsOn,
  proofPull,
}: Stage): Readonly<Record<string, Told>> => ({
  'held by': held,
  'also held': alsoHeld?.part ?? null,
  'also held by': alsoHeld?.robot ?? null,
  stands,
  'stands on': [...(standsOn?.parts ?? []), ...(standsOn?.table === true ? ['the table'] : [])],
  'proof pull': proofPull,
});

const geometricTraits = (stage: Stage): Traits => ({
  grip: gripTraits(stage),
  hold: holdTraits(stage),
  way: { direction: stage.approach?.direction ?? null, 'index angle': stage.turn ?? 0 },
  'fit-up': { remedies: stage.remedies },
});

const abstractTraits = ({ gripper, regrips, tacks, seconds }: AbstractPlan['stages'][number]): Traits => ({
  grip: { gripper, regrips },
  work: { tacks, seconds },
});

const traitsOf = (plan: Plan): ReadonlyMap<string, Traits> =>
  plan.kind === 'geometric'
    ? new Map(plan.stages.map((stage) => [stage.part, geometricTraits(stage)]))
    : new Map(plan.stages.map((stage) => [stage.part, abstractTraits(stage)]));

/** What differs of the stages of the parts that both plans have, by topic, then by part; of what both kinds of plan say. */
export function stageDifferences(a: Plan, b: Plan): readonly StageDifference[] {
  const [inA, inB] = [traitsOf(a), traitsOf(b)];
  const parts = [...inA.keys()].filter((part) => inB.has(part)).sort(compareText);
  return TOPICS.flatMap((topic) =>
    parts.flatMap((part): StageDifference[] => {
      const [one, other] = [inA.get(part)![topic], inB.get(part)![topic]];
      if (one === undefined || other === undefined) return [];
      const known = (traits: typeof one, there: typeof one): typeof one =>
        a.kind === b.kind
          ? traits
          : Object.fromEntries(Object.entries(traits).filter(([key]) => key in there));
      const changes = changesOf(known(one, other), known(other, one));
      return changes.length === 0 ? [] : [{ part, topic, changes }];
    }),
  );
}
