import { beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/model/settings.js';
import type { PlanningReport } from '../../src/planning/plan.js';
import { tradedOrders } from '../../src/planning/trade.js';
import { readTradedTerms } from '../../src/planning/traded-terms.js';
import { tradeText } from '../../src/report/trade-text.js';
import { countedTerms } from '../../src/rules/objective-true.js';
import { planSession } from '../../src/session/plan.js';
import { exampleWith, Planner, planIn, sourcesOf } from '../support/planned.js';

let planner: Planner;

beforeAll(async () => {
  planner = await Planner.load();
});

describe('two terms to trade', () => {
  it('are read, and whatever is wrong with them is said', () => {
    expect(readTradedTerms('regrips, distortion')).toEqual({ ok: true, value: ['regrips', 'distortion'] });
    for (const [text, said] of [
      [
        'regrips,speed',
        '"speed" is no term of an objective; write two of regrips, tool-changes, distortion, time',
      ],
      ['time', 'got 1 terms; write two with a comma between them, as regrips,distortion'],
      ['time,regrips,distortion', 'got 3 terms; write two with a comma between them, as regrips,distortion'],
      ['time,time', 'got time twice; write two different terms'],
    ] as const)
      expect(readTradedTerms(text)).toEqual({ ok: false, error: said });
  });
});

describe('plans between two terms', () => {
  // A trade that exists whatever moves: fewer tool changes or fewer seconds, with regrips as they are.
  it('are real plans of which none beats another, and the plan itself is among them or beaten by none', () => {
    const files = exampleWith('roller-stand', 'base', 'cheek-left', 'web');
    const terms = ['tool-changes', 'time'] as const;
    const outcome = planSession(sourcesOf(files), { programs: planner.programs, steps: 2000, trade: terms });
    const plan = planIn(outcome);
    if (outcome.kind !== 'planned') throw new Error('no plan');
    const { plans, completed } = outcome.trade!;
    const values = plans.map((one) => {
      if (one.kind !== 'geometric') throw new Error('a plan without shapes');
      const counted = countedTerms(one);
      return terms.map((term) => counted[term]);
    });
    expect(completed).toBeGreaterThanOrEqual(plans.length);
    values.forEach(([changes, time], i) => {
      if (i === 0) return;
      expect(changes!).toBeGreaterThan(values[i - 1]![0]!);
      expect(time!).toBeLessThan(values[i - 1]![1]!);
    });
    const own = countedTerms(plan);
    expect(values.some(([changes, time]) => changes! <= own['tool-changes'] && time! <= own.time)).toBe(true);
    const text = tradeText(outcome.trade!, plan);
    expect(text).toContain(`among ${completed} completed order`);
    expect(text).toContain('Trade of tool changes against time');
  });

  it('leave out an order that does not carry a state by which only whole plans are judged', () => {
    const order = (regrips: number, time: number): unknown => ({
      ...{ stages: [], regrips, toolChanges: 0, distortion: 0 },
      raw: { makespan: time },
    });
    const traded = (reserve: number): number => {
      const [own, other] = [order(0, 200), order(1, 100)];
      const run = {
        best: () => undefined,
        refusals: () => [],
        orders: { undominated: [own, other], count: 2 },
        completer: { reservesOf: () => [[{ reserve, required: 1.5 }]] },
      };
      const facts = { settings: DEFAULT_SETTINGS, scene: { parts: [], weldment: {} } };
      const search = { best: { steps: [], cost: [0, 0, 0, 200], result: own }, counters: {} };
      const report = { facts, run, search, reserves: [] } as unknown as PlanningReport;
      return tradedOrders(report, ['regrips', 'time']).reports.length;
    };
    expect(traded(1.5)).toBe(2);
    expect(traded(1.4)).toBe(1);
  });

  it('of a weldment without shapes have no distortion', () => {
    const sources = {
      weldment: {
        name: 'ring.yaml',
        text: 'weldment: ring\nunits: mm kg N s deg\nparts:\n  a: {}\n  b: {}\n',
      },
    };
    const outcome = planSession(sources, { programs: planner.programs, trade: ['time', 'distortion'] });
    expect(outcome).toMatchObject({
      kind: 'bad-input',
      issues: [
        { file: 'ring.yaml', problem: 'the parts have no shapes, so that there is no distortion to trade' },
      ],
    });
    expect(planSession(sources, { programs: planner.programs, trade: ['time', 'regrips'] })).toMatchObject({
      kind: 'planned',
      trade: { completed: 1 },
    });
    expect(DEFAULT_SETTINGS.objective).toContain('distortion');
  });
});
