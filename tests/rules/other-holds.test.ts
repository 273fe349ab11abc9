import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import { checkGeometric } from '../../src/rules/check.js';
import { contextOf } from '../support/hand-made-plan.js';
import { storyPlan, type StoryPlan } from '../support/story-plan.js';
import { inPlan, inPrograms, mutation, NOT_THERE, stepsOf, type Mutation } from './mutation.js';
import { MUTATIONS } from './mutations.js';

let programs: LinearPrograms;
let sound: StoryPlan;

beforeAll(async () => {
  programs = await loadLinearPrograms();
  sound = storyPlan('tall-plate-held-while-block-stands', programs);
});

/** What can be wrong where an earlier part is held while the newcomer stands. */
const OTHER_HOLDS: readonly Mutation[] = [
  mutation(
    'joined-to-weldment',
    'the welding robot holds the earlier part',
    inPlan(({ stages }) => {
      stages.at(-1)!.alsoHeld!.robot = 'welder';
    }),
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
    inPlan((plan) => {
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
    ['reach', 'reserves-true', 'reserves-hold', 'torch-access', 'magnet-distance'],
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

describe('a plan that holds an earlier part', () => {
  const findingsOn = ({ weldment, cell, plan }: StoryPlan) =>
    checkGeometric(contextOf(plan, programs, weldment, cell));

  it('breaks no rule', () => {
    expect(findingsOn(sound)).toEqual([]);
  });

  it.for([...OTHER_HOLDS, ...MUTATIONS])('$rule: $name', ({ rule, also, mutate }, { skip }) => {
    const mutated = mutate(sound);
    if (!mutated) return skip('the plan has nothing of the kind');
    const rules = new Set(findingsOn(mutated).map((finding) => finding.rule));
    expect(rules).toContain(rule);
    for (const other of rules) expect([rule, ...also]).toContain(other);
  });
});
