import { describe, expect, it } from 'vitest';
import { compareCost } from '../../src/algorithms/cost.js';
import { beam } from '../../src/algorithms/solvers/beam.js';
import { bestFirst } from '../../src/algorithms/solvers/best-first.js';
import { Budget } from '../../src/base/budget.js';
import { DEFAULT_SETTINGS, type ObjectiveTerm } from '../../src/model/settings.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { abstractDocument, abstractProblem, planAbstract } from '../../src/planning/abstract-plan.js';
import { checkAbstract } from '../../src/rules/check-abstract.js';
import { FAMILIES } from '../../src/study/families/families.js';
import { randomAbstract, withObjective } from './abstract-samples.js';
import { generatedAbstract } from './generated-abstract.js';

const OBJECTIVES: readonly (readonly ObjectiveTerm[])[] = [
  ['regrips', 'tool-changes', 'time'],
  ['time', 'regrips', 'tool-changes'],
  ['tool-changes', 'time', 'regrips'],
];
const inputs = { weldment: { name: 'sample', digest: 'abc' }, warnings: [] };

/** Plans within some steps, and has the rules judge what comes of it. */
function planned(weldment: AbstractWeldment, objective: readonly ObjectiveTerm[], steps: number) {
  const settings = withObjective(objective);
  const report = planAbstract(weldment, settings, { budget: new Budget({ steps }) });
  const plan = abstractDocument(report, weldment, settings, inputs);
  expect(checkAbstract(weldment, plan)).toEqual([]);
  return report;
}

describe.each(FAMILIES.map((family) => [family.name, family] as const))('%s', (_, family) => {
  it('of 14 parts is proved in 500 steps', () => {
    for (const seed of [1, 2, 3])
      for (const objective of OBJECTIVES) {
        const weldment = generatedAbstract(family, { parts: 14, seed });
        expect(planned(weldment, objective, 500).outcome).toBe('optimal');
      }
  });

  it('of 25 parts with moderate blocking is proved in 2000 steps', () => {
    for (const seed of [1, 2, 3])
      for (const objective of OBJECTIVES) {
        const weldment = generatedAbstract(family, { parts: 25, seed, grippers: 4 });
        expect(planned(weldment, objective, 2000).outcome).toBe('optimal');
      }
  });

  it('of 60 parts is planned by one dive, with the first term proved and the time within 5 % in 20 000 steps', () => {
    for (const objective of OBJECTIVES) {
      const weldment = generatedAbstract(family, { parts: 60, seed: 1, grippers: 4 });
      const { best, bound, provedTerms, improvements } = planned(weldment, objective, 20_000);
      expect(improvements[0]!.step).toBe(60);
      expect(provedTerms).toBeGreaterThanOrEqual(1);
      const time = objective.indexOf('time');
      expect(best!.cost[time]!).toBeLessThanOrEqual(1.05 * bound[time]!);
    }
  });
});

describe('a weldment of 200 parts', () => {
  it.each([2, 12])('and %i grippers is planned, with a bound', (grippers) => {
    const shape = { parts: 200, grippers, ways: 3, relations: 0.03, backwards: 0, contacts: 0.05 };
    const { best, bound, provedTerms } = planned(
      { ...randomAbstract(5, shape), first: undefined },
      OBJECTIVES[0]!,
      3000,
    );
    expect(best?.steps).toHaveLength(200);
    expect(compareCost(bound, best!.cost)).toBeLessThanOrEqual(0);
    expect(provedTerms).toBeGreaterThanOrEqual(1);
  });

  it('keeps a bound when the memory binds', () => {
    const shape = { parts: 60, grippers: 6, ways: 3, relations: 0.02, backwards: 0, contacts: 0.05 };
    const weldment = { ...randomAbstract(9, shape), first: undefined };
    const settings = withObjective(OBJECTIVES[2]!);
    const budget = (): Budget => new Budget({ steps: 3000 });
    const report = planAbstract(weldment, settings, { budget: budget(), memory: 2 ** 16 });
    const plenty = planAbstract(weldment, settings, { budget: budget() });
    expect(report.counters.dropped).toBeGreaterThan(0);
    expect(compareCost(report.bound, plenty.best!.cost)).toBeLessThanOrEqual(0);
    expect(checkAbstract(weldment, abstractDocument(report, weldment, settings, inputs))).toEqual([]);
  });
});

describe('what is proved', () => {
  it('is the same by the beam and best-first, with the moves that are needed and with all', () => {
    for (let seed = 0; seed < 30; seed += 1) {
      const shape = { parts: 10, grippers: 3, ways: 2, relations: 0.15, backwards: 0, contacts: 0.2 };
      const weldment = randomAbstract(seed, shape);
      const settings = withObjective(OBJECTIVES[seed % 3]!);
      const reports = (['needed', 'all'] as const).flatMap((moves) =>
        [beam, bestFirst].map((solver) =>
          solver(abstractProblem(weldment, settings, moves), {
            budget: new Budget({ steps: 200_000 }),
            ...{ memory: 2 ** 26, seed: DEFAULT_SETTINGS.seed },
          }),
        ),
      );
      for (const { outcome, best } of reports) {
        expect(outcome).toBe(reports[0]!.outcome);
        expect(best?.cost).toEqual(reports[0]!.best?.cost);
      }
      expect(['optimal', 'impossible']).toContain(reports[0]!.outcome);
    }
  });
});
