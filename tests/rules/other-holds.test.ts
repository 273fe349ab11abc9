import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { checkGeometric } from '../../src/rules/check.js';
import { contextOf } from '../support/hand-made-plan.js';
import { storyPlan, type StoryPlan } from '../support/story-plan.js';
import {
  inCell,
  inPlan,
  inPoses,
  inPrograms,
  mutation,
  NOT_THERE,
  stepsOf,
  type Mutation,
} from './mutation.js';
import { MUTATIONS } from './mutations.js';

let programs: LinearPrograms;
const plans = new Map<string, StoryPlan>();

beforeAll(async () => {
  programs = await loadLinearPrograms();
  for (const { story } of STORIES) plans.set(story, storyPlan(story, programs));
}, 120_000);

/** What can be wrong where an earlier part is held while the newcomer stands. */
const OTHER_HOLDS: readonly Mutation[] = [
  mutation(
    'joined-to-weldment',
    'the welding robot holds the earlier part',
    inPlan(({ stages }) => {
      stages.at(-1)!.alsoHeld!.robot = 'welder';
    }),
    ['programs-true'],
  ),
  mutation(
    'joined-to-weldment',
    'the newcomer is said to stand on the table',
    inPlan(({ stages }) => {
      stages.at(-1)!.standsOn = { table: true, parts: [] };
    }),
  ),
  mutation(
    'programs-true',
    'the hold is left out of the program',
    inPrograms((all) => {
      for (const program of all)
        program.steps = program.steps.filter((step) => step.do !== 'hold' || step.part !== 'tall');
    }),
    ['handshakes-safe'],
  ),
  mutation(
    'reach',
    'joints that lead beside the grip',
    inPoses((plan) => {
      const { alsoHeld } = plan.stages.at(-1)!;
      const stated = alsoHeld!.joints.join();
      alsoHeld!.joints[5] += 0.33;
      for (const step of stepsOf(plan))
        if (step.stage === 3 && step.do === 'move' && step.to.join() === stated)
          step.to = [...alsoHeld!.joints];
    }),
    ['timeline-true'],
  ),
  mutation(
    'grip-fits',
    'pads over the edge',
    inPlan(({ stages }) => {
      stages.at(-1)!.alsoHeld!.grip.position[1] += 12;
    }),
    ['reach', 'reserves-true', 'reserves-hold'],
  ),
  mutation(
    'gripper-clear',
    'a grip whose gripper is in the block',
    inPlan(({ stages }) => {
      const { grip } = stages.at(-1)!.alsoHeld!;
      grip.face = '-z';
      grip.position = [0, 0];
    }),
    [
      ...['reach', 'reserves-true', 'reserves-hold', 'torch-access', 'magnet-distance', 'rework-true'],
      ...['distortion-true', 'tack-order-true'],
    ],
  ),
  mutation(
    'reserves-true',
    'the state before the hold is not stated',
    inPlan(({ stages }) => {
      const last = stages.at(-1)!;
      const kept = last.reserves.filter(({ state }) => state !== 'standing');
      if (kept.length === last.reserves.length) return NOT_THERE;
      last.reserves = kept;
      return undefined;
    }),
  ),
];

/** What can be wrong where one robot holds a part on while another brings the next. */
const KEPT_HOLDS: readonly Mutation[] = [
  mutation(
    'joined-to-weldment',
    'one robot is said to hold both parts',
    inPlan(({ stages }) => {
      stages.at(-1)!.alsoHeld!.robot = stages.at(-1)!.robot!;
    }),
    ['programs-true', 'reach'],
  ),
  mutation(
    'joined-to-weldment',
    'the hold goes on by another grip',
    inPlan(({ stages }) => {
      stages.at(-1)!.alsoHeld!.grip.turn += 0.001;
    }),
  ),
  mutation(
    'joined-to-weldment',
    'the part is said to be let go although it is held on',
    inPlan(({ stages }) => {
      stages.at(-2)!.stands = 'tacked';
    }),
    [
      'programs-true',
      'reserves-hold',
      'reserves-true',
      'tack-rules',
      'distortion-true',
      'tack-order-true',
      'rework-true',
    ],
  ),
  mutation(
    'programs-true',
    'a part that is brought by the welding robot',
    inPlan(({ stages }) => {
      stages[0]!.robot = 'welder';
    }),
  ),
  mutation(
    'programs-true',
    'one gripper on two arms',
    inPlan((plan) => {
      const [one, other] = plan.programs.flatMap(({ steps }) => {
        const grip = steps.find((step) => step.do === 'grip');
        return grip?.do === 'grip' ? [grip] : [];
      });
      other!.gripper = one!.gripper;
    }),
    ['faults-end-safe'],
  ),
  mutation(
    'gripper-clear',
    'grippers so broad that they meet',
    inCell((cell) => ({
      ...cell,
      grippers: cell.grippers.map((one) => ({
        ...one,
        envelope: { ...one.envelope, length: 400, width: 400 },
      })),
    })),
    ['torch-access', 'approach-free', 'arms-clear', 'rework-true'],
  ),
  mutation(
    'handshakes-safe',
    'the second robot does not wait until the first keeps still',
    inPrograms(without('all tacks of long laid, torch out of the work zone')),
  ),
  mutation(
    'handshakes-safe',
    'two robots at the infeed',
    inPrograms(without('base fetched, infeed and regrip table free')),
    ['arms-clear'],
  ),
  mutation(
    'handshakes-safe',
    'two robots leave at once',
    inPrograms(without('long let go, handling robot out of the work zone')),
  ),
];

const STORIES = [
  { story: 'tall-plate-held-while-block-stands', own: OTHER_HOLDS },
  { story: 'two-robots-two-holds', own: KEPT_HOLDS },
] as const;

/** Takes out the handshake that says something. */
function without(meaning: string): (programs: GeometricPlan['programs'], plan: GeometricPlan) => unknown {
  return (all, plan) => {
    const gone = plan.handshakes.find((one) => one.meaning === meaning);
    if (gone === undefined) return NOT_THERE;
    plan.handshakes = plan.handshakes.filter((one) => one !== gone);
    for (const program of all)
      program.steps = program.steps.filter(
        (step) => !((step.do === 'signal' || step.do === 'await') && step.handshake === gone.id),
      );
    return undefined;
  };
}

describe.each(STORIES)('the plan of $story', ({ story, own }) => {
  const findingsOn = ({ weldment, cell, plan }: StoryPlan) =>
    checkGeometric(contextOf(plan, programs, weldment, cell));

  it('breaks no rule', () => {
    expect(findingsOn(plans.get(story)!)).toEqual([]);
  });

  it.for([...own, ...MUTATIONS])('$rule: $name', ({ rule, also, mutate }, { skip }) => {
    const mutated = mutate(plans.get(story)!);
    if (!mutated) return skip('the plan has nothing of the kind');
    const rules = new Set(findingsOn(mutated).map((finding) => finding.rule));
    expect(rules).toContain(rule);
    for (const other of rules) expect([rule, ...also]).toContain(other);
  });
});
