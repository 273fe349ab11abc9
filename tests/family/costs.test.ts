import { describe, expect, it } from 'vitest';
import { costOf, extraOf, termsOf } from '../../src/family/costs.js';
import type { ObjectiveTerm } from '../../src/model/settings.js';

const plan = (...terms: readonly [ObjectiveTerm, number][]) => ({
  objective: terms.map(([term, value]) => ({ term, value, bound: 0 })),
});

describe('costs in a family', () => {
  it('have the terms of the plan with most, so that a wish of one variant counts for it alone', () => {
    const plain = plan(['regrips', 1], ['time', 90]);
    const wishing = plan(['wishes', 2], ['regrips', 0], ['time', 80]);
    const terms = termsOf([plain, wishing, plain]);
    expect(terms).toEqual(['wishes', 'regrips', 'time']);
    expect(costOf(plain, terms)).toEqual([0, 1, 90]);
    expect(costOf(wishing, terms)).toEqual([2, 0, 80]);
    expect(extraOf(terms, [0, 1, -10])).toEqual([
      { term: 'wishes', value: 0 },
      { term: 'regrips', value: 1 },
      { term: 'time', value: -10 },
    ]);
    expect(termsOf([])).toEqual([]);
  });
});
