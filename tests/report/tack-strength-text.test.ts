import { describe, expect, it } from 'vitest';
import type { GeometricPlan } from '../../src/model/plan.js';
import { tackStrengthLines } from '../../src/report/tack-strength-text.js';
import { smallPlan } from './small-plan.js';

const textOf = (change: (plan: GeometricPlan) => void = () => undefined): string => {
  const plan = structuredClone(smallPlan());
  change(plan);
  return tackStrengthLines(plan).join(' ').replace(/\s+/g, ' ').trim();
};

describe('strength of tacks in words', () => {
  it('names the model that carries the reserves, and that by the code short tacks carry nothing', () => {
    const text = textOf();
    expect(text).toContain('temporary-strength model');
    expect(text).toContain('it is no strength by any code');
    expect(text).toContain(
      'all of them are too short to count by EN 1993-1-8 (4.5.1), so by that code no load-carrying welds',
    );
  });

  it('tells tacks that the code does count apart', () => {
    const text = textOf((plan) => {
      for (const { tacks } of plan.stages)
        for (const tack of tacks.slice(0, 1))
          Object.assign(tack, { codeStrength: 20_200, codeReason: 'long-enough', effectiveLength: 34 });
    });
    expect(text).toContain('each of the others carries 20.2 kN or more by it, which is not used');
  });

  it('lists tacks for which the wish about the two sides could not be had', () => {
    expect(textOf()).not.toContain('Sides:');
    const missed = (plan: GeometricPlan): void => {
      plan.stages.at(-1)!.sidesMissed = ['J1.1@10'];
    };
    expect(textOf(missed)).toContain('Sides: J1.1@10 has no tack opposite');
  });
});
