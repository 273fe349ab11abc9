import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Budget } from '../../src/base/budget.js';
import { canonicalText } from '../../src/io/canonical.js';
import { readWeldment } from '../../src/io/read-weldment.js';
import { abstractPlanSchema, type AbstractPlan } from '../../src/model/plan.js';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { abstractDocument, planAbstract } from '../../src/planning/abstract-plan.js';
import { checkAbstract } from '../../src/rules/check-abstract.js';
import { RULES } from '../../src/rules/check.js';
import {
  anyObjective,
  NO_WAY_NAMED,
  partsOnly,
  plenty,
  randomAbstract,
  renamed,
  smallAbstract,
  solve,
  withObjective,
} from './abstract-samples.js';

const inputs = { weldment: { name: 'sample', digest: 'abc' }, warnings: [] };

function planOf(
  weldment: AbstractWeldment,
  settings = DEFAULT_SETTINGS,
  budget = plenty(),
): AbstractPlan | undefined {
  const report = planAbstract(weldment, settings, { budget });
  return report.best === undefined ? undefined : abstractDocument(report, weldment, settings, inputs);
}

/** All orders of a list. */
const permutations = <T>(items: readonly T[]): T[][] =>
  items.length === 0
    ? [[]]
    : items.flatMap((item, i) => permutations(items.toSpliced(i, 1)).map((rest) => [item, ...rest]));

describe('four parts and two grippers', () => {
  const lines = [
    '  a: { ways: [{ gripper: wide, seconds: 10 }] }',
    '  b: { ways: [{ gripper: narrow, seconds: 11 }] }',
    '  c: { ways: [{ gripper: wide, seconds: 12 }] }',
    '  d: { ways: [{ gripper: narrow, seconds: 13 }] }',
  ];

  it('need exactly one tool change, whatever the order of the file', () => {
    const texts = permutations(lines).map((parts) => {
      const text = ['weldment: four', 'units: mm kg N s deg', 'parts:', ...parts].join('\n');
      const { value } = readWeldment(text, 'four.yaml');
      return canonicalText(planOf(value as AbstractWeldment));
    });
    expect(texts).toHaveLength(24);
    expect(new Set(texts).size).toBe(1);
    const plan = JSON.parse(texts[0]!) as AbstractPlan;
    expect(plan.objective).toEqual([
      { term: 'regrips', value: 0, bound: 0 },
      { term: 'tool-changes', value: 1, bound: 1 },
      { term: 'time', value: 580, bound: 580 },
    ]);
    expect(plan.proof.outcome).toBe('optimal');
  });
});

describe('an abstract plan', () => {
  it('is of the schema and breaks no rule', () => {
    fc.assert(
      fc.property(smallAbstract, anyObjective, fc.integer({ min: 1, max: 12 }), (weldment, terms, steps) => {
        for (const budget of [plenty(), new Budget({ steps })]) {
          const plan = planOf(weldment, withObjective(terms), budget);
          if (plan === undefined) continue;
          expect(abstractPlanSchema.parse(plan)).toEqual(plan);
          expect(checkAbstract(weldment, plan)).toEqual([]);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('keeps its rules where the file names no way of some parts', () => {
    const wide = [{ gripper: 'wide', regrips: 0, seconds: 5 }];
    for (const ways of [NO_WAY_NAMED, []]) {
      const weldment = partsOnly({ a: wide, b: ways, c: wide }, { needs: [{ part: 'b', after: ['a'] }] });
      const plan = planOf(weldment)!;
      expect(plan.stages.find(({ part }) => part === 'b')?.gripper).toBeNull();
      expect(plan.objective.map(({ value }) => value)).toEqual([0, 0, 100]);
      expect(checkAbstract(weldment, plan)).toEqual([]);
    }
  });

  it('keeps its rules with times that are no whole milliseconds', () => {
    const seconds = fc.double({ min: 0, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(
        smallAbstract,
        seconds,
        seconds,
        fc.infiniteStream(seconds),
        (weldment, tack, toolChange, more) => {
          const parts = weldment.parts.map((part) => ({
            ...part,
            ways: part.ways.map((way) => ({ ...way, seconds: more.next().value as number })),
          }));
          const odd = { ...weldment, parts, times: { tack, toolChange } };
          const plan = planOf(odd, withObjective(['time', 'regrips', 'tool-changes']));
          if (plan === undefined) return;
          expect(checkAbstract(odd, plan)).toEqual([]);
          expect(plan.proof.outcome).toBe('optimal');
        },
      ),
      { numRuns: 200 },
    );
  });

  it('does not add up roundings of short tacks on many joints', () => {
    const ids = Array.from({ length: 20 }, (_, i) => `p${i + 10}`);
    const joints = ids.map((id) => ({ between: ['hub', id] as const, tacks: 1 }));
    const weldment = partsOnly(Object.fromEntries(['hub', ...ids].map((id) => [id, []])), {
      joints,
      needs: [{ part: 'hub', after: ids }],
      times: { tack: 0.0014, toolChange: 12 },
    });
    const plan = planOf(weldment)!;
    expect(checkAbstract(weldment, plan)).toEqual([]);
    expect(plan.stages.at(-1)!.seconds).toBeCloseTo(0.028, 4);
  });

  it('is as good under other names and in another order', () => {
    fc.assert(
      fc.property(smallAbstract, anyObjective, fc.infiniteStream(fc.nat()), (weldment, terms, keys) => {
        const shuffled = renamed(weldment, () => keys.next().value as number);
        const [own, other] = [weldment, shuffled].map((w) => solve(w, withObjective(terms)));
        expect(other!.outcome).toBe(own!.outcome);
        expect(other!.best?.cost).toEqual(own!.best?.cost);
        expect(other!.provedTerms).toBe(own!.provedTerms);
      }),
      { numRuns: 200 },
    );
  });

  it('is the same byte for byte when it is made again', () => {
    for (let seed = 0; seed < 12; seed += 1) {
      const shape = { parts: 14, grippers: 3, ways: 3, relations: 0.1, backwards: 0, contacts: 0.2 };
      const weldment = { ...randomAbstract(seed, shape), first: undefined };
      const texts = [1, 2].map(() =>
        canonicalText(planOf(weldment, DEFAULT_SETTINGS, new Budget({ steps: 60 }))),
      );
      expect(texts[1]).toBe(texts[0]);
    }
  });

  it('of 25 parts is proved within the default budget', () => {
    for (let seed = 0; seed < 6; seed += 1) {
      const shape = { parts: 25, grippers: 4, ways: 2, relations: 0.2, backwards: 0, contacts: 0.15 };
      const weldment = { ...randomAbstract(seed, shape), first: undefined };
      const plan = planOf(weldment, DEFAULT_SETTINGS, new Budget({ steps: DEFAULT_SETTINGS.budget.steps }));
      expect(plan?.proof.outcome).toBe('optimal');
      expect(checkAbstract(weldment, plan!)).toEqual([]);
    }
  });
});

describe('the rules that a plan says are not applied', () => {
  const way = [{ gripper: 'wide', regrips: 0, seconds: 10 }];
  const weldment = partsOnly(
    { a: way, b: way, c: way },
    {
      contacts: [
        ['a', 'b'],
        ['b', 'c'],
      ],
      joints: [{ between: ['a', 'b'], tacks: 2 }],
      needs: [{ part: 'b', after: ['a'] }],
      first: 'a',
      wishes: [{ before: ['b', 'c'], never: false, soft: false, weight: 1 }],
    },
  );

  it('are all those that no change to the plan can break, each with a reason', () => {
    const changes: ((plan: AbstractPlan) => void)[] = [
      (plan) => void plan.stages.pop(),
      (plan) => void plan.stages.reverse(),
      (plan) => void plan.stages.splice(1, 2, { ...plan.stages[2]! }, { ...plan.stages[1]! }),
      (plan) => void (plan.wishes![0]!.kept = false),
      (plan) => void (plan.stages[1]!.tacks = 7),
      (plan) => void (plan.stages[1]!.seconds += 5),
      (plan) => void (plan.objective[0]!.value = 9),
      (plan) => void (plan.proof.provedTerms = []),
    ];
    const broken = new Set<string>();
    const plan = planOf(weldment)!;
    expect(checkAbstract(weldment, plan)).toEqual([]);
    for (const change of changes) {
      const changed = structuredClone(plan);
      change(changed);
      for (const { rule } of checkAbstract(weldment, changed)) broken.add(rule);
    }
    const never = RULES.map(({ id }) => id).filter((id) => !broken.has(id));
    expect(plan.rulesNotApplied.map(({ rule }) => rule)).toEqual(never);
    for (const { why } of plan.rulesNotApplied) expect(why.length).toBeGreaterThan(20);
  });
});
