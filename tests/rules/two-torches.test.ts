import { beforeAll, describe, expect, it } from 'vitest';
import { loadLinearPrograms, type LinearPrograms } from '../../src/algorithms/linear-program.js';
import type { Cell } from '../../src/model/cell.js';
import type { GeometricPlan } from '../../src/model/plan.js';
import { checkGeometric } from '../../src/rules/check.js';
import { contextOf } from '../support/hand-made-plan.js';
import { storyPlan, type StoryPlan } from '../support/story-plan.js';

let programs: LinearPrograms;
let story: StoryPlan;

beforeAll(async () => {
  programs = await loadLinearPrograms();
  story = storyPlan('two-torches-on-opposed-sides', programs);
}, 120_000);

/** Findings on the plan after a change to it, each as its rule and what it says. */
function judged(change: (plan: GeometricPlan) => void, cell: Cell = story.cell): readonly string[] {
  const plan = structuredClone(story.plan);
  change(plan);
  const findings = checkGeometric(contextOf(plan, programs, story.weldment, cell));
  return findings.map(({ rule, message }) => `${rule}: ${message}`);
}

const rulesOf = (findings: readonly string[]): readonly string[] => [
  ...new Set(findings.map((text) => text.split(':')[0]!)),
];

describe('a plan with two torches at once', () => {
  it('breaks no rule', () => {
    expect(judged(() => undefined)).toEqual([]);
  });

  it('is found out when a tack is given to the other torch, by its program and by its joints', () => {
    const found = judged((plan) => {
      plan.stages[1]!.tacks[0]!.robot = 'left';
    });
    expect(rulesOf(found)).toEqual(expect.arrayContaining(['programs-true', 'reach']));
  });

  it('is found out when the other torch lays it in its program too, by its joints', () => {
    const found = judged((plan) => {
      const swap = (robot: string): string => ({ left: 'right', right: 'left' })[robot] ?? robot;
      for (const tack of plan.stages[1]!.tacks) tack.robot = swap(tack.robot);
      for (const program of plan.programs) program.robot = swap(program.robot);
      for (const { from, to } of plan.handshakes)
        [from.robot, to.robot] = [swap(from.robot), swap(to.robot)] as [string, string];
      for (const activity of plan.timeline.activities) activity.robot = swap(activity.robot);
    });
    expect(rulesOf(found)).toContain('reach');
    expect(rulesOf(found)).not.toContain('programs-true');
  });

  it('is found out when a tack is given to a robot that does not weld, or to none of the cell', () => {
    for (const robot of ['handler', 'nobody']) {
      const found = judged((plan) => {
        plan.stages[1]!.tacks.at(-1)!.robot = robot;
      });
      const { id } = story.plan.stages[1]!.tacks.at(-1)!;
      expect(found).toContain(`programs-true: tack ${id} is laid by ${robot}, which is no welding robot`);
    }
  });

  it.each(['left', 'right'])(
    'is found out when %s does not wait for the hold, or is not waited for',
    (robot) => {
      const without = (side: 'from' | 'to') =>
        judged((plan) => {
          const { id } = plan.handshakes.find((one) => one[side].robot === robot)!;
          plan.handshakes = plan.handshakes.filter((one) => one.id !== id);
          for (const program of plan.programs)
            program.steps = program.steps.filter((step) => !('handshake' in step && step.handshake === id));
        });
      for (const side of ['from', 'to'] as const) expect(rulesOf(without(side))).toContain('handshakes-safe');
    },
  );

  it('is found out when the torches come too near to one another', () => {
    const fat = story.cell.welders.map((welder) => ({
      ...welder,
      torch: { ...welder.torch, nozzleRadius: 16, bodyFrontRadius: 16 },
    }));
    const found = judged(() => undefined, { ...story.cell, welders: fat });
    expect(found).toContainEqual(
      expect.stringMatching(
        /^arms-clear: step \d+ of left and step \d+ of right can be at the same time: torch/,
      ),
    );
  });
});
