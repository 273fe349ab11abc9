import { beforeAll, describe, expect, it } from 'vitest';
import type { GeometricPlan } from '../../src/model/plan.js';
import { buildScene } from '../../src/model/scene.js';
import { distortionTrue } from '../../src/rules/distortion-true.js';
import { gapsStayClosed } from '../../src/rules/gaps-stay-closed.js';
import type { RuleContext } from '../../src/rules/rule.js';
import { inputsOf, Planner, story } from '../support/planned.js';

const STORY = 'two-torches-on-opposed-sides';

let context: RuleContext;

beforeAll(async () => {
  const planner = await Planner.load();
  const { weldment, cell } = inputsOf(story(STORY));
  if (weldment.kind !== 'geometric' || !cell) throw new Error(`${STORY} has no shapes`);
  const plan: GeometricPlan = planner.plan(story(STORY));
  const { settings } = plan;
  const scene = buildScene(weldment, cell, settings);
  context = { weldment, cell, plan, settings, scene, programs: planner.programs };
});

const withPlan = (change: (plan: GeometricPlan) => void): RuleContext => {
  const plan = structuredClone(context.plan);
  change(plan);
  return { ...context, plan };
};

describe('the distortion of a plan', () => {
  it('is what a replay from the plan alone comes to', () => {
    expect(distortionTrue.judge(withPlan(() => undefined))).toEqual([]);
    expect(context.plan.stages.flatMap(({ distortion }) => distortion.openings).length).toBeGreaterThan(1);
    expect(context.plan.distortion.worst!.mm).toBeGreaterThan(0);
  });

  it('is another one when two tacks of a stage change places', () => {
    const swapped = withPlan(({ stages }) => {
      const { tacks } = stages.find((stage) => stage.tacks.length > 1)!;
      const [a, b] = tacks.filter(({ phase }) => phase === tacks[0]!.phase);
      [a!.order, b!.order] = [b!.order, a!.order];
    });
    expect(distortionTrue.judge(swapped)).not.toEqual([]);
  });

  it('is not judged where a stage is not known', () => {
    const strange = withPlan(({ stages }) => {
      stages[1]!.part = 'stranger';
    });
    expect(distortionTrue.judge(strange)).toEqual([]);
    expect(gapsStayClosed.judge(strange)).toEqual([]);
  });

  it('says at which tack a seam stands open too far, how far and what is allowed', () => {
    const { weldment } = context;
    const tight = { ...weldment, fitUp: { ...weldment.fitUp, gap: 0.001 } };
    const scene = { ...context.scene, weldment: tight };
    const [found] = gapsStayClosed.judge({ ...context, scene });
    expect(found).toMatchObject({ rule: 'gaps-stay-closed', limit: 0.001 });
    expect(found!.message).toMatch(
      /^before tack .* is laid its seam stands open by 0\.\d+ mm; 0.001 can still be tacked$/,
    );
  });
});
