import { describe, expect, it } from 'vitest';
import { differenceOf } from '../../src/explain/difference/difference.js';
import { compareText } from '../../src/report/compare-text.js';
import { abstractOf, planA, planB } from '../explain/difference-plans.js';
import { barePlan } from '../support/bare-plan.js';

const files = { a: 'one.plan.json', b: 'other.plan.json' };
const text = (a: Parameters<typeof differenceOf>[0], b: typeof a): string =>
  compareText(differenceOf(a, b), files);

describe('compareText', () => {
  it('has a sentence for every kind of difference', () => {
    expect(text(planA(), planB())).toMatchSnapshot();
  });

  it('says that nothing differs', () => {
    expect(text(planA(), planA())).toMatchInlineSnapshot(`
      "A: one.plan.json
      B: other.plan.json

      The two plans are the same.
      "
    `);
  });

  it('says where more differs than it tells', () => {
    const b = barePlan('base');
    b.cautions = ['Held parts fall.'];
    expect(text(barePlan('base'), b)).toMatchInlineSnapshot(`
      "A: one.plan.json
      B: other.plan.json

      A and B are equally good.
      Nothing of order, grips, holds, tacks, timeline, handshakes, warnings and settings differs. More differs in
      these sections of the documents: cautions.
      "
    `);
  });

  it('ranks no plans for other inputs, and tells of those without shapes', () => {
    const b = abstractOf('c', 'a', 'd');
    b.weldment = { name: 'other', digest: '0123456789abcdef' };
    b.stages[1]!.gripper = 'wide';
    b.stages[1]!.seconds = 25.5;
    expect(text(abstractOf('a', 'b', 'c'), b)).toMatchInlineSnapshot(`
      "A: one.plan.json
      B: other.plan.json

      A and B are not for the same inputs: neither is the better plan.
      Made for:
        - weldment: "bare" with digest in A, "other" with digest 0123456789ab in B
      Order:
        - c joins in stage 3 in A, in stage 1 in B
        - only in A: b
        - only in B: d
      Grips:
        - a: gripper narrow in A, wide in B
      Tacks and seconds of stages:
        - a: seconds 20 s in A, 25.5 s in B
      More differs in these sections of the documents: stages.
      "
    `);
  });

  it('ranks no plans with unlike objectives', () => {
    const b = planA();
    b.objective.reverse();
    expect(text(planA(), b)).toContain('cannot be ranked');
  });
});
