import { describe, expect, it } from 'vitest';
import type { GeometricPlan } from '../../src/model/plan.js';
import { isLess, together } from '../../src/rules/whole-totals.js';

type Costed = Parameters<typeof together>[0][number];

/** A plan of which only what totals count is there: the grippers of each stage in turn, by robot. */
const plan = (
  objective: readonly (readonly [string, number])[],
  ...stages: readonly (readonly [robot: string | null, ...grippers: string[]])[]
): Costed => ({
  objective: objective.map(([term, value]) => ({ term, value, bound: 0 })) as GeometricPlan['objective'],
  stages: stages.map(([robot, ...grippers]) => ({
    robot,
    handling: grippers.map((gripper) => ({ grip: { gripper } })),
  })) as unknown as GeometricPlan['stages'],
});

const terms = (changes: number, time: number) =>
  [
    ['regrips', 1],
    ['tool-changes', changes],
    ['time', time],
  ] as const;

describe('what plans come to together', () => {
  it('is their sum, with the gripper that is changed between them', () => {
    const first = plan(terms(0, 100), ['h', 'wide'], ['h', 'wide', 'small']);
    const second = plan(terms(2, 50), ['h', 'wide']);
    expect(together([first, second])).toEqual({
      changesBetween: 1,
      objective: [
        { term: 'regrips', value: 2 },
        { term: 'tool-changes', value: 3 },
        { term: 'time', value: 150 },
      ],
    });
  });

  it('counts no change where the gripper stays, or was never needed', () => {
    const first = plan(terms(0, 1), ['h', 'small']);
    const byOther = plan(terms(0, 1), ['other', 'wide'], [null]);
    const again = plan(terms(0, 1), ['h', 'small']);
    expect(together([first, byOther, again]).changesBetween).toBe(0);
  });

  it('has the terms of the plan with most, a missing one counting nothing', () => {
    const wished = plan([['wishes', 3], ...terms(0, 1)], ['h', 'small']);
    const other = plan(terms(0, 1), ['h', 'small']);
    expect(together([other, wished]).objective[0]).toEqual({ term: 'wishes', value: 3 });
  });

  it('is less by the first term that differs', () => {
    const of = (...values: number[]) =>
      (['regrips', 'time'] as const).map((term, i) => ({ term, value: values[i]! }));
    expect(isLess(of(0, 9), of(1, 0))).toBe(true);
    expect(isLess(of(1, 0), of(1, 0))).toBe(false);
  });

  it('is compared term by term where only one of two has wishes', () => {
    const of = (...values: readonly [number, number]) =>
      (['regrips', 'time'] as const).map((term, i) => ({ term, value: values[i]! }));
    const wished = (broken: number, ...values: readonly [number, number]) => [
      { term: 'wishes' as const, value: broken },
      ...of(...values),
    ];
    expect(isLess(of(1, 5), wished(0, 2, 0))).toBe(true);
    expect(isLess(of(2, 5), wished(0, 1, 9))).toBe(false);
    expect(isLess(of(9, 9), wished(1, 0, 0))).toBe(true);
    expect(isLess(wished(0, 1, 5), of(2, 0))).toBe(true);
  });
});
