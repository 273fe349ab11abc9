import { describe, expect, it } from 'vitest';
import { openVerdict, type Open, type OpenVerdict } from '../../../src/explain/why/open.js';
import type { Plan } from '../../../src/model/plan.js';
import { planA } from '../difference-plans.js';

/** A plan with these values and bounds of regrips, tool changes and time. */
function plan(values: readonly number[], bounds: readonly number[]): Plan {
  const made = planA();
  made.objective = made.objective.map(({ term }, i) => ({ term, value: values[i]!, bound: bounds[i]! }));
  return made;
}

const TERMS = ['regrips', 'tool-changes', 'time'] as const;
const open = (...values: number[]): Open => ({
  states: 5,
  bound: values.map((value, i) => ({ term: TERMS[i]!, value })),
});

const valuesOf = (verdict: OpenVerdict): readonly number[] | undefined =>
  'bound' in verdict ? verdict.bound.map(({ value }) => value) : undefined;

describe('openVerdict', () => {
  it('has the terms of the plan', () => {
    expect(planA().objective.map(({ term }) => term)).toEqual(TERMS);
  });

  it('tells the first term of which every other plan has more, an earlier one counting first', () => {
    const given = plan([1, 2, 1200], [1, 2, 1000]);
    expect(openVerdict(given, open(2, 0, 0))).toMatchObject({
      kind: 'dearer',
      atLeast: { term: 'regrips', value: 1 },
    });
    expect(openVerdict(given, open(1, 2, 1240))).toMatchObject({
      kind: 'dearer',
      atLeast: { term: 'time', value: 40 },
    });
  });

  it('is no price where the bound is below the plan, however much more it has of a later term', () => {
    const verdict = openVerdict(plan([1, 2, 1200], [1, 0, 0]), open(1, 1, 9000));
    expect(verdict.kind).toBe('open');
    expect(valuesOf(verdict)).toEqual([1, 1, 9000]);
  });

  it('takes what is proved of all plans where that says more, and nothing from a term without a number', () => {
    const given = plan([1, 2, 1200], [1, 2, 1000]);
    expect(valuesOf(openVerdict(given, open(0, 7, 0)))).toEqual([1, 2, 1000]);
    expect(valuesOf(openVerdict(given, open(1, Infinity, Infinity)))).toEqual([1, 2, 1000]);
    expect(valuesOf(openVerdict(given, open(2, Infinity, Infinity)))).toEqual([2]);
  });

  it('compares with the plan as it was before its tacks were put in another order', () => {
    const given = plan([0, 0, 1100], [0, 0, 0]);
    const objective = plan([0, 0, 1200], [0, 0, 1000]).objective;
    given.proof.beforeReordering = { stages: 1, objective, provedTerms: [] };
    expect(openVerdict(given, open(0, 0, 1150)).kind).toBe('open');
    expect(openVerdict(given, open(0, 0, 1250))).toMatchObject({ kind: 'dearer', searched: true });
  });

  it('is unknown only where nothing is proved and nothing stood against any part', () => {
    const given = plan([1, 0, 1200], [0, 0, 0]);
    expect(openVerdict(given, open(0, 0, 0))).toEqual({ kind: 'unknown', states: 5 });
    const deepest = { inPlace: ['base'], left: [{ part: 'rib', reasons: [] }] };
    expect(openVerdict(given, { ...open(0, 0, 0), deepest }).kind).toBe('open');
    expect(openVerdict(given, open(0, 0, 900)).kind).toBe('open');
  });
});
