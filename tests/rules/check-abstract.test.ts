import { describe, expect, it } from 'vitest';
import type { AbstractPlan } from '../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { checkAbstract } from '../../src/rules/check-abstract.js';
import { barePlan } from '../support/bare-plan.js';

const weldment: AbstractWeldment = {
  kind: 'abstract',
  name: 'chain',
  parts: [
    { id: 'a', mass: undefined, ways: [{ gripper: 'g1', regrips: 0, seconds: 10 }] },
    {
      id: 'b',
      mass: undefined,
      ways: [
        { gripper: 'g1', regrips: 1, seconds: 20 },
        { gripper: 'g2', regrips: 0, seconds: 9 },
      ],
    },
    { id: 'c', mass: undefined, ways: [] },
  ],
  contacts: [
    ['a', 'b'],
    ['b', 'c'],
  ],
  joints: [
    { between: ['a', 'b'], tacks: 2 },
    { between: ['b', 'c'], tacks: 3 },
  ],
  times: { tack: 4, toolChange: 12 },
  blocking: [{ part: 'b', by: ['c'] }],
  needs: [],
  first: undefined,
};

/** a, then b by the second gripper (12 s for the change, 2 tacks), then c (3 tacks): 10 + 29 + 12 s. */
const plan = (): AbstractPlan => {
  const bare = barePlan();
  return {
    ...{ format: bare.format, version: bare.version, kind: 'abstract', weldment: bare.weldment },
    settings: DEFAULT_SETTINGS,
    objective: [
      { term: 'regrips', value: 0, bound: 0 },
      { term: 'tool-changes', value: 1, bound: 0 },
      { term: 'time', value: 510, bound: 400 },
    ],
    proof: { ...bare.proof, outcome: 'feasible', provedTerms: ['regrips'] },
    ...{ rulesNotApplied: [], warnings: [], cautions: [] },
    stages: [
      { number: 1, part: 'a', gripper: 'g1', regrips: 0, tacks: 0, seconds: 10 },
      { number: 2, part: 'b', gripper: 'g2', regrips: 0, tacks: 2, seconds: 29 },
      { number: 3, part: 'c', gripper: null, regrips: 0, tacks: 3, seconds: 12 },
    ],
  };
};

const judge = (change: (plan: AbstractPlan) => void): string[] => {
  const changed = plan();
  change(changed);
  return checkAbstract(weldment, changed).map(({ rule }) => rule);
};

describe('a plan without shapes', () => {
  it('is sound', () => {
    expect(judge(() => undefined)).toEqual([]);
  });

  it.each([
    ['each-part-once', (p: AbstractPlan) => void (p.stages[2]!.number = 4)],
    ['ways-exist', (p: AbstractPlan) => void (p.stages[0]!.gripper = 'g9')],
    ['tack-rules', (p: AbstractPlan) => void (p.stages[2]!.tacks = 4)],
    [
      'timeline-true',
      (p: AbstractPlan) => void ((p.stages[1]!.seconds = 28.95), (p.objective[2]!.value = 510)),
    ],
    ['objective-true', (p: AbstractPlan) => void (p.objective[1]!.value = 2)],
    ['proof-true', (p: AbstractPlan) => void (p.proof.provedTerms = ['time'])],
  ])('breaks %s', (rule, change) => {
    expect(judge(change)).toContain(rule);
  });

  it('must touch what stands and keep the relations', () => {
    const swapped = judge((p) => {
      const [a, b, c] = p.stages;
      p.stages = [
        a!,
        { ...c!, number: 2, tacks: 0, seconds: 0 },
        { ...b!, number: 3, tacks: 5, seconds: 41 },
      ];
    });
    expect(swapped).toEqual(['order-relations', 'joined-to-weldment']);
  });

  it('speaks of parts that are missing, strange or twice', () => {
    expect(judge((p) => void (p.stages[2]!.part = 'z'))).toEqual(['each-part-once', 'each-part-once']);
  });
});
