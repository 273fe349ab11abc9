import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addCost, compareCost } from '../../src/algorithms/cost.js';
import { SOLVERS } from '../../src/algorithms/solvers/solvers.js';
import { DEFAULT_SETTINGS, withoutShapes, type ObjectiveTerm } from '../../src/model/settings.js';
import { objectiveOf } from '../../src/model/objective.js';
import type { AbstractWeldment } from '../../src/model/weldment.js';
import { abstractConflicts, explainAbstract } from '../../src/planning/abstract-impossible.js';
import { abstractDocument } from '../../src/planning/abstract-plan.js';
import type { Moves } from '../../src/planning/abstract-moves.js';
import { AbstractProblem } from '../../src/planning/abstract-problem.js';
import { checkAbstract } from '../../src/rules/check-abstract.js';
import { leastByEnumeration } from './abstract-enumeration.js';
import { partsOnly, plenty, smallAbstract, solve } from './abstract-samples.js';
import { walked, type WalkedState } from './packed-walk.js';
import { randomWishes, smallWished, wish } from './wish-samples.js';

/** The reasons without what each is about. */
const bare = (weldment: AbstractWeldment): readonly unknown[] =>
  explainAbstract(weldment).reasons.map(({ code, subjects }) => ({ code, subjects }));

/** Any order of the terms, with `wishes` anywhere. */
const anyWishedObjective: fc.Arbitrary<readonly ObjectiveTerm[]> = fc.shuffledSubarray(
  ['wishes', 'regrips', 'tool-changes', 'time'] as const,
  { minLength: 4, maxLength: 4 },
);

const termsOf = (weldment: AbstractWeldment, objective: readonly ObjectiveTerm[]): readonly ObjectiveTerm[] =>
  withoutShapes(objectiveOf(weldment, { objective: [...objective] }));

describe('the search for an order that keeps wishes', () => {
  it.each<Moves>(['all', 'needed'])('with %s moves finds what enumeration finds', (moves) => {
    let impossible = 0;
    let broken = 0;
    fc.assert(
      fc.property(smallWished, anyWishedObjective, (weldment, objective) => {
        const terms = termsOf(weldment, objective);
        const least = leastByEnumeration(weldment, terms);
        if (least === undefined) impossible += 1;
        else if ((least[terms.indexOf('wishes')] ?? 0) > 0) broken += 1;
        const problem = new AbstractProblem(weldment, terms, moves);
        const report = SOLVERS.beam.solve(problem, { budget: plenty(), memory: 2 ** 26, seed: 1 });
        expect(report.outcome).toBe(least === undefined ? 'impossible' : 'optimal');
        expect(report.best?.cost).toEqual(least);
      }),
      { numRuns: 500 },
    );
    expect(impossible).toBeGreaterThan(20);
    expect(broken).toBeGreaterThan(20);
  });

  const proving = Object.entries(SOLVERS).filter(([, { proves }]) => proves);

  it.each(proving)('by %s agrees with enumeration', (_, { solve: run }) => {
    fc.assert(
      fc.property(smallWished, anyWishedObjective, (weldment, objective) => {
        const terms = termsOf(weldment, objective);
        const problem = new AbstractProblem(weldment, terms, 'needed');
        const report = run(problem, { budget: plenty(), memory: 2 ** 26, seed: 1 });
        expect(report.best?.cost).toEqual(leastByEnumeration(weldment, terms));
      }),
      { numRuns: 60 },
    );
  });
});

describe('every state that can be reached among wishes', () => {
  it('has a bound that is at most the cheapest completion, the same with the needed moves as with all', () => {
    fc.assert(
      fc.property(smallWished, anyWishedObjective, (weldment, objective) => {
        const terms = termsOf(weldment, objective);
        const all = walked(new AbstractProblem(weldment, terms, 'all'));
        const needed = walked(new AbstractProblem(weldment, terms, 'needed'));
        for (const { bound, toGo } of all.values()) expect(compareCost(bound, toGo)).toBeLessThanOrEqual(0);
        for (const { key, toGo, bound } of needed.values()) {
          expect(toGo).toEqual(all.get(key)!.toGo);
          expect(compareCost(bound, toGo)).toBeLessThanOrEqual(0);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('costs at most the surcharge more to finish than another with the same parts in place', () => {
    fc.assert(
      fc.property(smallWished, anyWishedObjective, (weldment, objective) => {
        const terms = termsOf(weldment, objective);
        const problem = new AbstractProblem(weldment, terms, 'needed');
        const groups = new Map<string, WalkedState[]>();
        for (const state of walked(problem).values()) {
          const inPlace = state.row.subarray(0, problem.dominance.words).join('.');
          groups.set(inPlace, [...(groups.get(inPlace) ?? []), state]);
        }
        const surcharge = new Float64Array(terms.length);
        for (const group of groups.values())
          for (const a of group)
            for (const b of group) {
              problem.dominance.surcharge(a.row, b.row, surcharge);
              expect(compareCost(a.toGo, addCost(b.toGo, [...surcharge]))).toBeLessThanOrEqual(0);
            }
      }),
      { numRuns: 150 },
    );
  });
});

describe('the plan among wishes', () => {
  const planOf = (weldment: AbstractWeldment) => {
    const report = solve(weldment);
    return report.best === undefined
      ? undefined
      : abstractDocument(report, weldment, DEFAULT_SETTINGS, {
          weldment: { name: weldment.name, digest: '' },
          warnings: [],
        });
  };

  it('keeps every hard wish, says which soft ones it keeps, and passes every rule', () => {
    fc.assert(
      fc.property(smallWished, (weldment) => {
        const plan = planOf(weldment);
        if (plan === undefined) return;
        expect(checkAbstract(weldment, plan)).toEqual([]);
        expect(plan.wishes!.every(({ wish: { soft }, kept }) => kept || soft)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });

  it('is with soft wishes as good as the best of all subsets of them made hard', () => {
    fc.assert(
      fc.property(smallAbstract, fc.integer(), (bare, seed) => {
        const wishes = randomWishes(bare, seed, 3).map((one) => ({ ...one, soft: true }));
        const { best } = solve({ ...bare, wishes });
        const costs = Array.from({ length: 8 }, (_, set) => {
          const hard = wishes.filter((_one, i) => (set >> i) & 1).map((one) => ({ ...one, soft: false }));
          const weight = wishes.reduce((sum, one, i) => sum + ((set >> i) & 1 ? 0 : one.weight), 0);
          const found = solve({ ...bare, wishes: hard }).best;
          return found ? [[weight, ...found.cost]] : [];
        }).flat();
        expect(best?.cost).toEqual(costs.sort(compareCost)[0]);
      }),
      { numRuns: 150 },
    );
  });

  it('names the least set of wishes and relations that rule every order out', () => {
    const weldment = partsOnly(
      { a: [], b: [], c: [] },
      {
        needs: [{ part: 'c', after: ['b'] }],
        wishes: [wish({ first: 'b' }), wish({ before: ['c', 'a'] }), wish({ before: ['a', 'b'] })],
      },
    );
    expect(bare(weldment)).toEqual([
      { code: 'wish', subjects: ['b'] },
      { code: 'wish', subjects: ['a', 'b'] },
    ]);
    const two = { ...weldment, wishes: weldment.wishes!.slice(1) };
    expect(bare(two)).toEqual([
      { code: 'needs', subjects: ['c', 'b'] },
      { code: 'wish', subjects: ['c', 'a'] },
      { code: 'wish', subjects: ['a', 'b'] },
    ]);
  });

  it('is impossible exactly where some conflict explains it', () => {
    fc.assert(
      fc.property(smallWished, (weldment) => {
        const { outcome } = solve(weldment);
        expect(abstractConflicts(weldment).length > 0).toBe(outcome === 'impossible');
      }),
      { numRuns: 200 },
    );
  });
});
