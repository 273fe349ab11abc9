import { describe, expect, it } from 'vitest';
import { loadLinearPrograms } from '../../../src/algorithms/linear-program.js';
import { Budget } from '../../../src/base/budget.js';
import type { Refusal } from '../../../src/model/verdict.js';
import { wishesOf } from '../../../src/model/wish.js';
import { abstractConflicts, explainAbstract } from '../../../src/planning/abstract-impossible.js';
import { factsOf } from '../../../src/planning/plan.js';
import { planInputs } from '../../../src/session/plan.js';
import { readInputs, type Inputs } from '../../../src/session/inputs.js';
import {
  ruledOutAtOnce,
  stillStands,
  stillStandsAbstractly,
} from '../../../src/session/remedies/standing-sets.js';
import { sourcesOf, story, type Files } from '../../support/planned.js';

const programs = await loadLinearPrograms();
const budget = (): Budget => new Budget({ steps: 2000 });

/** A story of a wish that contradicts a need, changed. */
function changed(change: (files: Files) => void): Inputs {
  const files = story('wished-before-what-it-needs');
  change(files);
  return readInputs(sourcesOf(files)).inputs!;
}
const factsIn = ({ weldment, cell, settings }: Inputs) => {
  if (weldment.kind !== 'geometric') throw new Error('no shapes');
  return factsOf(weldment, cell!, settings, programs);
};
const reasonsOf = (inputs: Inputs): readonly Refusal[] => {
  const outcome = planInputs(inputs, { programs });
  return outcome.kind === 'impossible' ? outcome.reasons : [];
};

const WISH = { before: ['north', 'mid'] };

describe('a set of facts with a wish', () => {
  const told = reasonsOf(changed(() => undefined));
  const stands = (change: (files: Files) => void): boolean =>
    stillStands(factsIn(changed(change)), told, budget);

  it('is of a need and a wish', () => {
    expect(told.map(({ code }) => code).sort()).toEqual(['needs', 'wish']);
  });

  it('stands where other wishes come before it, or another part is changed', () => {
    expect(stands(() => undefined)).toBe(true);
    expect(stands(({ weldment }) => (weldment['wishes'] = [{ held: 'south', soft: true }, WISH]))).toBe(true);
    expect(stands(({ weldment }) => (weldment.parts['south']!['rest'] = '-z'))).toBe(true);
  });

  it('falls where the wish is soft or gone, or the need is', () => {
    expect(stands(({ weldment }) => (weldment['wishes'] = [{ ...WISH, soft: true }]))).toBe(false);
    expect(stands(({ weldment }) => (weldment['wishes'] = []))).toBe(false);
    expect(stands(({ weldment }) => (weldment.needs = []))).toBe(false);
  });

  it('is found to rule every plan out before any is looked for, and not where it does not', () => {
    expect(ruledOutAtOnce(factsIn(changed(() => undefined)), budget)).toBe(true);
    expect(ruledOutAtOnce(factsIn(changed(({ weldment }) => (weldment.needs = []))), budget)).toBe(false);
  });
});

describe('a set of facts without shapes', () => {
  const read = (more: string): Inputs =>
    readInputs({
      weldment: {
        text: `weldment: r\nunits: mm kg N s deg\nparts: { a: {}, b: {}, c: {} }\n${more}\n`,
        name: 'r.yaml',
      },
    }).inputs!;
  const stands = (told: readonly Refusal[], { weldment, settings }: Inputs): boolean =>
    weldment.kind === 'abstract' && stillStandsAbstractly(weldment, wishesOf(weldment, settings), told);
  const given = read('needs: [{ part: a, after: [b] }]\nwishes: [{ before: [a, b] }]');
  const told = given.weldment.kind === 'abstract' ? explainAbstract(given.weldment).reasons : [];

  it.each([
    ['needs: [{ part: a, after: [b] }]\nwishes: [{ first: c }, { before: [a, b] }]', true],
    ['needs: [{ part: a, after: [b] }]\nwishes: [{ before: [a, b], soft: true }]', false],
    ['needs: [{ part: a, after: [c] }]\nwishes: [{ before: [a, b] }]', false],
  ])('stands only where all of it is there: %s', (more, expected) => {
    const now = read(more);
    expect(stands(told, now)).toBe(expected);
    // Whatever stands has no order.
    if (expected && now.weldment.kind === 'abstract')
      expect(abstractConflicts(now.weldment, wishesOf(now.weldment, now.settings)).length).toBeGreaterThan(0);
  });
});

describe('a plan that ends with the first', () => {
  it('is legal and no better than the best, and comes to the same when it is repeated', () => {
    const inputs = readInputs(sourcesOf(story('one-tool-change'))).inputs!;
    const of = (firstOnly: boolean) => {
      const outcome = planInputs(inputs, { programs, firstOnly });
      if (outcome.kind !== 'planned') throw new Error(outcome.kind);
      return outcome.plan;
    };
    const [first, again, best] = [of(true), of(true), of(false)];
    expect(again).toEqual(first);
    const time = (plan: typeof first): number => plan.objective.find(({ term }) => term === 'time')!.value;
    expect(time(first)).toBeGreaterThanOrEqual(time(best));
    expect(first.proof.bestOf).toBe(1);
  });
});
