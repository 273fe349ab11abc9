import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../src/algorithms/linear-program.js';
import { looseParts } from '../../src/rules/loose-parts.js';
import { reservesHold } from '../../src/rules/reserves-hold.js';
import { contextOf } from '../support/hand-made-plan.js';
import { storyPlan } from '../support/story-plan.js';

const programs = await loadLinearPrograms();

describe('loose parts', () => {
  it('are those that no chain of tacks joins to the first', () => {
    const tack = (a: number, b: number) => ({ a, b });
    expect(looseParts([4, 2, 0, 7], [])).toEqual([2, 0, 7]);
    expect(looseParts([4, 2, 0, 7], [tack(0, 2)])).toEqual([2, 0, 7]);
    expect(looseParts([4, 2, 0, 7], [tack(7, 0), tack(0, 4)])).toEqual([2]);
    expect(looseParts([4, 2, 0, 7], [tack(2, 9), tack(9, 4)])).toEqual([2, 0, 7]);
    expect(looseParts([], [])).toEqual([]);
  });

  it('are pushed in every later state until tacks join them to the rest', () => {
    const { weldment, cell, plan } = storyPlan('rails-stand-until-the-cross-member', programs);
    const about = (state: string): string[] =>
      plan.stages[2]!.reserves.filter((one) => one.state === state).map((one) => one.case);
    expect(about('held').filter((name) => name.endsWith(' on east')).length).toBeGreaterThan(0);
    // Both securing tacks are laid by then, one on each rail.
    expect(about('let-go').filter((name) => name.endsWith(' on east'))).toEqual([]);
    // The rail slides at 0.2 x 0.75 of its weight: 1.87 times a push of 0.08 of it, 1.36 times one of 0.11.
    const heavier = structuredClone(plan);
    heavier.settings.loads['push-share'] = 0.11;
    const findings = reservesHold.judge(contextOf(heavier, programs, weldment, cell));
    expect(findings.map(({ where }) => where)).toContain('stages[2].reserves');
    expect(findings.find(({ where }) => where === 'stages[2].reserves')!.message).toContain(' on east ');
  });
});
